import type { Course } from '../../../shared-types/pool.ts';
import type { RaceStroke } from '../../../shared-types/squad.ts';

/**
 * How published races were paced: the 50 splits of each, in hundredths, as its results list printed them. They stand in
 * for the splits of a swimmer who has none of their own; every use of one is marked as an estimate.
 */
export interface SplitProfile {
  readonly stroke: RaceStroke;
  readonly distance: number;
  readonly course: Course;
  /** Splits of equal shares of the distance, hundredths of a second. */
  readonly splits: readonly number[];
  /** Which race, in words. */
  readonly source: string;
}

export const SPLIT_PROFILES: readonly SplitProfile[] = [
  {
    stroke: 'free',
    distance: 100,
    course: 'LCM',
    splits: [2228, 2412],
    source: "men's 100 m freestyle, long course, 31 July 2024",
  },
  {
    stroke: 'free',
    distance: 200,
    course: 'LCM',
    splits: [2423, 2589, 2618, 2570],
    source: "men's 200 m freestyle, long course, 28 July 2009",
  },
  {
    stroke: 'free',
    distance: 400,
    course: 'LCM',
    splits: [2475, 2715, 2775, 2790, 2828, 2818, 2838, 2757],
    source: "men's 400 m freestyle, long course, 12 April 2025",
  },
  {
    stroke: 'free',
    distance: 400,
    course: 'SCM',
    splits: [2693, 2915, 2938, 2991, 2984, 2973, 2970, 2928],
    source: "women's 400 m freestyle, short course, December 2018",
  },
  {
    stroke: 'free',
    distance: 1500,
    course: 'LCM',
    splits: [
      2814, 3061, 3058, 3072, 3116, 3176, 3150, 3142, 3131, 3150, 3133, 3136, 3147, 3143, 3153, 3151, 3162, 3153, 3188,
      3130, 3160, 3165, 3162, 3174, 3148, 3173, 3134, 3124, 3100, 2947,
    ],
    source: "women's 1500 m freestyle, long course, 2013",
  },
  {
    stroke: 'fly',
    distance: 200,
    course: 'LCM',
    splits: [2466, 2822, 2869, 2916],
    source: "men's 200 m butterfly, long course, 24 July 2019",
  },
  {
    stroke: 'back',
    distance: 200,
    course: 'LCM',
    splits: [2704, 2878, 2905, 2927],
    source: "men's 200 m backstroke, long course, 28 July 2023",
  },
  {
    stroke: 'breast',
    distance: 200,
    course: 'LCM',
    splits: [2853, 3219, 3264, 3212],
    source: "men's 200 m breaststroke, long course, 28 July 2023",
  },
];

/** The published race of this stroke and distance, one of the same course first; null where there is none. */
export function profileFor(stroke: RaceStroke, distance: number, course: Course): SplitProfile | null {
  const fitting = SPLIT_PROFILES.filter((profile) => profile.stroke === stroke && profile.distance === distance);
  return fitting.find((profile) => profile.course === course) ?? fitting[0] ?? null;
}
