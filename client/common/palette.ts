/**
 * The colours of all pages, sRGB. Every role can be read on `ink` and on `well`, and `ink` on every role, at 7:1 or
 * better (WCAG 2.1 §1.4.6); the roles differ by at least 0.07 in OKLab for normal, protan, deutan and tritan vision
 * (Machado, Oliveira and Fernandes 2009). They come with words and shapes all the same: no meaning hangs on colour.
 */
export const PALETTE = {
  /** Deep petrol: the ground of the dark pages, the writing of the light ones. */
  ink: '#07222b',
  /** A surface on `ink`, such as a lane's band. */
  well: '#0b2932',
  /** A line or an edge on `ink` that no writing stands on. */
  edge: '#3f6470',
  /** Warm white: the writing of the dark pages, the ground of the light ones. */
  paper: '#fbf4e3',
  /** Writing of lesser weight on `ink` and `well`. */
  quiet: '#a9bcbd',
  /** About to leave. */
  leave: '#fdea7d',
  /** Swimming at pace. */
  swim: '#95dafd',
  /** Swimming easily. */
  easy: '#b7ffe4',
  /** Resting, or waiting for slower lanes. */
  rest: '#a1aaff',
  /** Waiting for the coach. */
  gate: '#ff980a',
  /** Held by the coach. */
  held: '#d9a0bd',
  /** Something wrong that a person should see. */
  warn: '#ffbaa4',
} as const;

export type ColourRole = keyof typeof PALETTE;
