import { inMetres } from '../../shared-types/pool.ts';
import type { SwumSet } from '../../shared-types/results.ts';
import type { RepStep, Sheet, SheetLane } from '../../shared-types/sheet.ts';
import { swumIn } from '../../shared-types/volume.ts';

/**
 * A sheet's sets as a week counts those that were swum: each once, with the mean distance and time of those who are to
 * swim it; rests between sets belong to none.
 */
export const plannedSets = (sheet: Sheet): Omit<SwumSet, 'at'>[] =>
  sheet.sets.flatMap(({ style }, set) => {
    const mean = meanOf(sheet, set);
    return mean ? [{ style, ...mean }] : [];
  });

/** Null for a set that nobody is to swim. */
function meanOf({ lanes, course }: Sheet, set: number): Pick<SwumSet, 'metres' | 'ms'> | null {
  const own = lanes.flatMap((lane) => {
    const reps = lane.steps.filter((step): step is RepStep => step.kind === 'rep' && step.set === set);
    return reps.length === 0 ? [] : [{ swimmers: swimmersOf(lane), reps }];
  });
  const swimmers = own.reduce((sum, lane) => sum + lane.swimmers, 0);
  if (swimmers === 0) return null;
  const mean = (of: (rep: RepStep) => number): number =>
    own.reduce((sum, lane) => sum + lane.swimmers * lane.reps.reduce((all, rep) => all + of(rep), 0), 0) / swimmers;
  return { metres: inMetres(mean(swumIn), course), ms: mean((rep) => rep.durationMs) };
}

/** A lane without a squad counts as one swimmer. */
const swimmersOf = ({ swimmers }: SheetLane): number => Math.max(1, swimmers.length);
