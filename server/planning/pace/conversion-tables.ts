import type { Course } from '../../../shared-types/pool.ts';
import type { RaceStroke } from '../../../shared-types/squad.ts';

/** A factor in thousandths, so that times in hundredths are converted without rounding. */
interface ConversionRow {
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

const forAll = (stroke: RaceStroke, from: number, to: number, factor: number): ConversionRow => ({
  stroke,
  from,
  to,
  women: factor,
  men: factor,
});

const sameDistance = (stroke: RaceStroke, distance: number, women: number, men: number): ConversionRow => ({
  stroke,
  from: distance,
  to: distance,
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
    forAll('free', 400, 500, 1153),
    forAll('free', 800, 1000, 1153),
    forAll('free', 1500, 1650, 1013),
    ...SAME_IN_SHORT_COURSE.flatMap(([stroke, distances]) =>
      distances.map((distance) => forAll(stroke, distance, distance, 906)),
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
    sameDistance('free', 50, 881, 870),
    sameDistance('free', 100, 884, 873),
    sameDistance('free', 200, 884, 875),
    { stroke: 'free', from: 400, to: 500, women: 1122, men: 1115 },
    { stroke: 'free', from: 800, to: 1000, women: 1130, men: 1115 },
    { stroke: 'free', from: 1500, to: 1650, women: 985, men: 975 },
    sameDistance('back', 100, 863, 845),
    sameDistance('back', 200, 867, 859),
    sameDistance('breast', 100, 880, 866),
    sameDistance('breast', 200, 888, 868),
    sameDistance('fly', 100, 887, 878),
    sameDistance('fly', 200, 891, 876),
    sameDistance('IM', 200, 877, 867),
    sameDistance('IM', 400, 886, 875),
  ],
};

export const CONVERSION_TABLES: readonly ConversionTable[] = [SCM_TO_SCY, LCM_TO_SCY];
