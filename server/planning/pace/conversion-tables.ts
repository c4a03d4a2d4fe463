import type { Course } from '../../../shared-types/pool.ts';
import type { RaceStroke } from '../../../shared-types/squad.ts';

/** A factor in thousandths, so that times in hundredths are converted without rounding. */
export interface ConversionRow {
  readonly stroke: RaceStroke;
  readonly from: number;
  /** The distance in the other course's own unit. */
  readonly to: number;
  readonly women: number;
  readonly men: number;
}

/** Published collegiate factors: a time in `from` times the factor is a time in `to`. They change by season. */
export interface ConversionTable {
  readonly from: Course;
  readonly to: Course;
  readonly season: string;
  /** Whether the factors differ by category. */
  readonly byCategory: boolean;
  readonly rows: readonly ConversionRow[];
}

const row = (stroke: RaceStroke, from: number, to: number, women: number, men = women): ConversionRow => ({
  stroke,
  from,
  to,
  women,
  men,
});

/** "All others" of the table: the individual races of short course that have the same distance in both. */
const SAME_IN_SHORT_COURSE: readonly (readonly [RaceStroke, readonly number[]])[] = [
  ['free', [50, 100, 200]],
  ['back', [50, 100, 200]],
  ['breast', [50, 100, 200]],
  ['fly', [50, 100, 200]],
  ['IM', [100, 200, 400]],
];

/** Collegiate conversion factors, short course metres to yards, season 2021-22. */
const SCM_TO_SCY: ConversionTable = {
  from: 'SCM',
  to: 'SCY',
  season: '2021-22',
  byCategory: false,
  rows: [
    row('free', 400, 500, 1153),
    row('free', 800, 1000, 1153),
    row('free', 1500, 1650, 1013),
    ...SAME_IN_SHORT_COURSE.flatMap(([stroke, distances]) =>
      distances.map((distance) => row(stroke, distance, distance, 906)),
    ),
  ],
};

/** Collegiate conversion factors, long course metres to yards, season 2023-24. */
const LCM_TO_SCY: ConversionTable = {
  from: 'LCM',
  to: 'SCY',
  season: '2023-24',
  byCategory: true,
  rows: [
    row('free', 50, 50, 881, 870),
    row('free', 100, 100, 884, 873),
    row('free', 200, 200, 884, 875),
    row('free', 400, 500, 1122, 1115),
    row('free', 800, 1000, 1130, 1115),
    row('free', 1500, 1650, 985, 975),
    row('back', 100, 100, 863, 845),
    row('back', 200, 200, 867, 859),
    row('breast', 100, 100, 880, 866),
    row('breast', 200, 200, 888, 868),
    row('fly', 100, 100, 887, 878),
    row('fly', 200, 200, 891, 876),
    row('IM', 200, 200, 877, 867),
    row('IM', 400, 400, 886, 875),
  ],
};

export const CONVERSION_TABLES: readonly ConversionTable[] = [SCM_TO_SCY, LCM_TO_SCY];
