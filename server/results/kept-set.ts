import type { SwimmerId } from '../../shared-types/brand.ts';
import type { Course } from '../../shared-types/pool.ts';
import { type Figure, isKnown, type SetResults, type Signature, type SwumSet } from '../../shared-types/results.ts';
import { swumSetOf } from './week.ts';

/** Grows with every change that makes something else of the same times, so that what is kept is worked out anew. */
export const WORKING_OUT = 1;

/** What a set came to with one swimmer: short enough to be kept for years, and always worked out from the times. */
export interface KeptSet extends SwumSet {
  /** Index into the sets of the sheet. */
  readonly set: number;
  readonly swimmer: SwimmerId;
  readonly signature: Signature;
  /** Reps that the swimmer was to swim, and those of them with a time. */
  readonly reps: number;
  readonly timed: number;
  /** Every rep was left on. */
  readonly isWhole: boolean;
  /** Of its reps, milliseconds; null when none was timed. */
  readonly meanMs: number | null;
  readonly bestMs: number | null;
  readonly worstMs: number | null;
  /** Reps or paced parts with a target and a time, and those of them that were hits. */
  readonly judged: number;
  readonly hits: number;
}

const orNull = (figure: Figure): number | null => (isKnown(figure) ? figure : null);

/** What is kept of a practice: by set, lane and order, everybody who left on anything of a set. */
export const keptSetsOf = (results: readonly SetResults[], course: Course): KeptSet[] =>
  results.flatMap(({ set, style, swimmers }) =>
    swimmers.flatMap(({ swimmer, signature, reps, spread, hits }): KeptSet[] => {
      const swum = swumSetOf(reps, style, course);
      if (!swum) return [];
      return [
        {
          ...swum,
          set,
          swimmer,
          signature,
          reps: reps.length,
          timed: spread.count,
          isWhole: reps.every(({ leftAt }) => leftAt !== null),
          meanMs: orNull(spread.meanMs),
          bestMs: orNull(spread.bestMs),
          worstMs: orNull(spread.worstMs),
          judged: hits.judged,
          hits: hits.hits,
        },
      ];
    }),
  );
