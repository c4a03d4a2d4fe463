import { z } from 'zod';

/** What a swimmer pulled against, as it was written down after the rep; the practice says a stack's mass at most. */

/** Least and most that a swimmer pulls; a convention of ours, to tell slips of the finger. */
export const LOAD_LIMITS = { kg: { least: 0.5, most: 200 }, newtons: { least: 1, most: 1000 } } as const;

const { kg, newtons } = LOAD_LIMITS;

export const loadSchema = z.union([
  /** Mass of the weight stack, kilograms. */
  z.strictObject({ kg: z.number().min(kg.least).max(kg.most) }),
  /** Steady force of the rope, as a gauge shows it, newtons. */
  z.strictObject({ newtons: z.number().min(newtons.least).max(newtons.most) }),
]);
export type Load = z.infer<typeof loadSchema>;

export const repLoadSchema = z.object({
  /** The step's id. */
  step: z.string().min(1).max(64),
  load: loadSchema,
});
/** A load that was written down for one rep of a swimmer. */
export type RepLoad = z.infer<typeof repLoadSchema>;

export const repLoadsSchema = z.array(repLoadSchema).max(1000);
