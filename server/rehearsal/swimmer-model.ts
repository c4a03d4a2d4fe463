import { normal } from './random.ts';

/**
 * How simulated swimmers swim what they should. Every constant here is a convention of ours, chosen so that a rehearsal
 * looks like a practice; none is measured and none has a source.
 */

/** Spread of the level of the day, as a share of the time: who is slow today is slow all day. */
export const LEVEL_SPREAD = 0.01;
/** Spread from rep to rep. */
export const REP_SPREAD = 0.008;
/** The most by which the last rep of a set is slower than its first; each swimmer's own lies between 0 and this. */
export const MOST_FADE = 0.03;
/** How often a swimmer stops in the middle of a rep, and how often a touch is seen by nobody. */
export const STOPS_SHARE = 0.003;
export const UNSEEN_SHARE = 0.007;
/** How well a thumb meets a touch it sees coming: spread, and the most it is early or late, ms. */
export const THUMB_SPREAD_MS = 80;
export const THUMB_MOST_MS = 250;

/** A swimmer's day. */
export interface Form {
  /** Times take so many times as long. */
  readonly level: number;
  /** By what share the last rep of a set is slower than its first. */
  readonly fade: number;
}

export interface Swim {
  /** From leaving to the touch; of who stopped, until out of everybody's way. Ms, whole. */
  readonly ms: number;
  readonly ends: 'touch' | 'unseen' | 'stopped';
}

/** Which rep of how many. */
interface Turn {
  readonly rep: number;
  readonly reps: number;
}

/** @param draw numbers from 0 up to 1 */
export const formOf = (draw: () => number): Form => ({
  level: 1 + LEVEL_SPREAD * normal(draw),
  fade: MOST_FADE * draw(),
});

function endOf(draw: number): Swim['ends'] {
  if (draw < STOPS_SHARE) return 'stopped';
  return draw < STOPS_SHARE + UNSEEN_SHARE ? 'unseen' : 'touch';
}

/**
 * One swim: what should be swum × the level of the day × (1 + fade so far + noise).
 * @param expectedMs the target, or how long the swim should take without one
 */
export function swimOf({ level, fade }: Form, expectedMs: number, { rep, reps }: Turn, draw: () => number): Swim {
  const faded = reps > 1 ? (fade * (rep - 1)) / (reps - 1) : 0;
  const swumMs = expectedMs * level * (1 + faded + REP_SPREAD * normal(draw));
  const ends = endOf(draw());
  return { ms: Math.round(ends === 'stopped' ? swumMs / 2 : swumMs), ends };
}

/** How much later than the touch (or earlier, < 0) the coach's thumb comes down, whole ms. */
export function thumbErrorMs(draw: () => number): number {
  const errorMs = Math.round(THUMB_SPREAD_MS * normal(draw));
  return Math.min(THUMB_MOST_MS, Math.max(-THUMB_MOST_MS, errorMs));
}
