import { z } from 'zod';

export const COURSES = ['SCY', 'SCM', 'LCM'] as const;
export const courseSchema = z.enum(COURSES);
/** Short course yards, short course metres, long course metres. */
export type Course = z.infer<typeof courseSchema>;

/** Length of the pool in the course's own unit. */
export const lengthOf = (course: Course): 25 | 50 => (course === 'LCM' ? 50 : 25);
export const unitOf = (course: Course): 'm' | 'yd' => (course === 'SCY' ? 'yd' : 'm');

/** near is the end with the blocks, where a practice starts; far is the other wall. */
export const END_NAMES = ['near', 'far'] as const;
export type End = (typeof END_NAMES)[number];

export const poolSchema = z.object({
  course: courseSchema,
  /** Lanes in the pool, 1 to 12. */
  lanes: z.number().int().min(1).max(12),
  /** Gap between swimmers of a lane, ms. */
  apartMs: z.number().int().min(0).max(300_000),
  /** Share of 200-pace speed that easy swimming goes at; common practice, no source. */
  easyShare: z.number().min(0.3).max(1),
  /** What "90 %" means: percent of speed (t / p) or of time (t · (2 − p)). */
  percent: z.enum(['speed', 'time']),
  /** Race pace as the even split of the whole race. */
  pace: z.enum(['even']),
});
export type Pool = z.infer<typeof poolSchema>;

export const DEFAULT_POOL: Pool = {
  course: 'SCM',
  lanes: 6,
  apartMs: 5000,
  easyShare: 0.65,
  percent: 'speed',
  pace: 'even',
};
