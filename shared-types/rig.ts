import { z } from 'zod';

/** What can be said of a pulley with a stack of weights, least and most. */
export const RIG_LIMITS = {
  ratio: { least: 1, most: 50 },
  stackHeightM: { least: 0.2, most: 20 },
  timedDistance: { least: 1, most: 50 },
} as const;

const within = ({ least, most }: { readonly least: number; readonly most: number }) => z.number().min(least).max(most);

export const rigSchema = z.object({
  /** So many metres of rope come out for one metre that the stack goes up. */
  ratio: within(RIG_LIMITS.ratio).optional(),
  /** How far the stack can go up, metres. */
  stackHeightM: within(RIG_LIMITS.stackHeightM).optional(),
  /** Over how much of a rep it is timed, in the course's unit; absent, and of shorter reps: the whole rep. */
  timedDistance: within(RIG_LIMITS.timedDistance).optional(),
});
/** The pulley of the pool; what is absent is not known. */
export type Rig = z.infer<typeof rigSchema>;

/** How far the stack goes up while so many metres of rope come out, metres. */
export const stackRise = (metres: number, ratio: number): number => metres / ratio;
