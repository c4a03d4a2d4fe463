import type { Ink, MarkShape } from './chart-model.ts';

/** How a mark is drawn, on the canvas and in the key alike: an SVG path around 0 0 that is 10 wide. */
export interface DrawnMark {
  readonly path: string;
  readonly isFilled: boolean;
}

export const MARKS: Readonly<Record<MarkShape, DrawnMark>> = {
  disc: { path: 'M-4 0A4 4 0 1 0 4 0A4 4 0 1 0 -4 0Z', isFilled: true },
  ring: { path: 'M-3.5 0A3.5 3.5 0 1 0 3.5 0A3.5 3.5 0 1 0 -3.5 0Z', isFilled: false },
  down: { path: 'M-5 -4H5L0 5Z', isFilled: true },
  cross: { path: 'M-4 -4L4 4M-4 4L4 -4', isFilled: false },
  diamond: { path: 'M0 -5L5 0L0 5L-5 0Z', isFilled: false },
};

/** Lines of several swimmers take these by turns: each reads on the sheet by day and by night. */
const LINE_COLOURS = ['--accent', '--short-time', '--short-effort', '--done', '--short-gear'] as const;

const COLOURS: Readonly<Record<Exclude<Ink, number>, string>> = {
  chief: '--accent',
  faint: '--edge',
  good: '--done',
  fast: '--accent',
  bad: '--warn',
  partly: '--warning',
  neutral: '--quiet',
};

/** The name of the page's colour for it. */
export const colourName = (ink: Ink): string =>
  typeof ink === 'number' ? (LINE_COLOURS[ink % LINE_COLOURS.length] ?? '--accent') : COLOURS[ink];

/** Lines of one colour are told apart by their dashes, px; the first ones are drawn through. */
const DASHES: readonly (readonly number[])[] = [[], [7, 4], [2, 3], [10, 3, 2, 3]];

export const dashOf = (ink: Ink): readonly number[] =>
  typeof ink === 'number' ? (DASHES[Math.floor(ink / LINE_COLOURS.length) % DASHES.length] ?? []) : [];
