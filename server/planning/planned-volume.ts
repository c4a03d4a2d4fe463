import { inMetres } from '../../shared-types/pool.ts';
import { STYLES, type Style } from '../../shared-types/practice.ts';
import type { Week } from '../../shared-types/results.ts';
import type { RepStep, Sheet, SheetLane } from '../../shared-types/sheet.ts';
import { swumIn } from '../../shared-types/volume.ts';

type StyleOfWeek = Week['byStyle'][number];

/**
 * What a sheet's sets come to, style by style, as a week counts those that were swum: each set once, with the mean
 * distance and time of those who are to swim it; rests between sets belong to none.
 */
export function plannedStyles(sheet: Sheet): StyleOfWeek[] {
  const volumes = sheet.sets.flatMap((of, set) => volumeOf(sheet, set, of.style) ?? []);
  return addedUp(volumes);
}

/** Several practices together, in the order of the styles. */
export function addedUp(volumes: readonly StyleOfWeek[]): StyleOfWeek[] {
  return STYLES.flatMap((style) => {
    const own = volumes.filter((volume) => volume.style === style);
    const sum = (of: (volume: StyleOfWeek) => number): number => own.reduce((all, volume) => all + of(volume), 0);
    if (own.length === 0) return [];
    return [
      {
        style,
        sets: sum(({ sets }) => sets),
        metres: sum(({ metres }) => metres),
        minutes: sum(({ minutes }) => minutes),
      },
    ];
  });
}

/** Null for a set that nobody is to swim. */
function volumeOf({ lanes, course }: Sheet, set: number, style: Style): StyleOfWeek | null {
  const own = lanes.flatMap((lane) => {
    const reps = lane.steps.filter((step): step is RepStep => step.kind === 'rep' && step.set === set);
    return reps.length === 0 ? [] : [{ swimmers: swimmersOf(lane), reps }];
  });
  const swimmers = own.reduce((sum, lane) => sum + lane.swimmers, 0);
  if (swimmers === 0) return null;
  const mean = (of: (rep: RepStep) => number): number =>
    own.reduce((sum, lane) => sum + lane.swimmers * lane.reps.reduce((all, rep) => all + of(rep), 0), 0) / swimmers;
  return { style, sets: 1, metres: inMetres(mean(swumIn), course), minutes: mean((rep) => rep.durationMs) / 60_000 };
}

/** A lane without a squad counts as one swimmer. */
const swimmersOf = ({ swimmers }: SheetLane): number => Math.max(1, swimmers.length);
