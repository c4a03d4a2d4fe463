import { z } from 'zod';
import { rigSchema } from './rig.ts';

export const COURSES = ['SCY', 'SCM', 'LCM'] as const;
export const courseSchema = z.enum(COURSES);
/** Short course yards, short course metres, long course metres. */
export type Course = z.infer<typeof courseSchema>;

/** Length of the pool in the course's own unit. */
export const lengthOf = (course: Course): 25 | 50 => (course === 'LCM' ? 50 : 25);
/** Exact by definition: 1 yd = 0.9144 m (international yard and pound agreement of 1959). */
export const inMetres = (distance: number, course: Course): number =>
  course === 'SCY' ? (distance * 9144) / 10_000 : distance;
/** The other way round: metres in the course's own unit, to a tenth of a millimetre, on which every whole yard falls. */
export const fromMetres = (metres: number, course: Course): number =>
  course === 'SCY' ? Math.round(metres * 10_000) / 9144 : metres;
export const unitOf = (course: Course): 'm' | 'yd' => (course === 'SCY' ? 'yd' : 'm');

/** near is the end with the blocks, where a practice starts; far is the other wall. */
export const END_NAMES = ['near', 'far'] as const;
export type End = (typeof END_NAMES)[number];

export const PACES = ['even', 'without-dive'] as const;
export const PERCENTS = ['speed', 'time'] as const;

export const REFERENCE_KINDS = ['goal', 'best', 'test'] as const;
/** What a swimmer wants to swim, has swum in a race, has swum in training. */
export const referenceKindSchema = z.enum(REFERENCE_KINDS);
export type ReferenceKind = z.infer<typeof referenceKindSchema>;

/** A rep is held that is slower than its target by no more than this, a 50: ms. Common practice, no source. */
export const DEFAULT_TOLERANCE_MS_PER_50 = 300;

export const poolSchema = z.object({
  course: courseSchema,
  /** Lanes in the pool, 1 to 12. */
  lanes: z.number().int().min(1).max(12),
  /** Gap between swimmers of a lane, ms. */
  apartMs: z.number().int().min(0).max(300_000),
  /** Share of 200-pace speed that easy swimming goes at; common practice, no source. */
  easyShare: z.number().min(0.3).max(1),
  /** What "90 %" means: percent of speed (t / p) or of time (t · (2 − p)). */
  percent: z.enum(PERCENTS),
  /**
   * Race pace of a rep that starts from a push: the even split of the whole race, or of the race without its first 50,
   * which has the dive in it.
   */
  pace: z.enum(PACES),
  /** Which of a swimmer's times of an event is meant first; then goal before best before test. */
  prefer: referenceKindSchema.default('goal'),
  /** How long the pool is booked, ms. Absent: not said. */
  bookedMs: z
    .number()
    .int()
    .min(60_000)
    .max(12 * 3_600_000)
    .optional(),
  /** How much slower than its target a rep is still held, a 50, ms. Absent: the default. */
  toleranceMsPer50: z.number().int().min(0).max(5000).optional(),
  /** Absent: nothing is known of it. */
  rig: rigSchema.optional(),
});
export type Pool = z.infer<typeof poolSchema>;

export const DEFAULT_POOL: Pool = {
  course: 'SCM',
  lanes: 6,
  apartMs: 5000,
  easyShare: 0.65,
  percent: 'speed',
  pace: 'even',
  prefer: 'goal',
  toleranceMsPer50: DEFAULT_TOLERANCE_MS_PER_50,
};
