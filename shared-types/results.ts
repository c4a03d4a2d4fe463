import { z } from 'zod';
import { instantSchema, laneNumberSchema, msSchema, swimmerIdSchema } from './brand.ts';
import { STYLES, type Style } from './practice.ts';
import { splitSchema, styleSchema } from './sheet.ts';
import { activitySchema } from './squad.ts';

/**
 * What recorded times say. Times taken are whole milliseconds; figures worked out from them are exact and are rounded
 * only where they are shown. What cannot be known is said so, never guessed, and never a number that is none.
 */

const count = z.number().int().min(0);
const ordinal = z.number().int().min(1);

export const NONE_REASONS = [
  'no times',
  'one rep only',
  'fewer than four times',
  'a time of nought',
  'several strokes',
  'no target',
  'no time for it',
  'no send-off after it',
  'a pause follows',
  'no pulley',
  'load not known',
  'the force of the rope instead',
  'pulley ratio not known',
  'stack too low for the distance',
  'not swum before',
  'another set',
] as const;
/** Why there is no figure. */
export type NoneReason = (typeof NONE_REASONS)[number];

export const noneSchema = z.object({ none: z.enum(NONE_REASONS) });
/** No figure, and why. */
export type None = z.infer<typeof noneSchema>;

export const figureSchema = z.union([z.number(), noneSchema]);
/** A finite number, or why there is none. */
export type Figure = z.infer<typeof figureSchema>;

export const none = (reason: NoneReason): None => ({ none: reason });

/** Whether something is there, and not the reason why it is not. */
export const isKnown = <Known>(one: Known | None): one is Known =>
  typeof one !== 'object' || one === null || !('none' in one);

export const spreadSchema = z.object({
  /** How many times there are. */
  count,
  /** How many reps were swum without a time; none is ever filled in. */
  missing: count,
  /** Milliseconds, not rounded. */
  meanMs: figureSchema,
  /** The fastest, milliseconds. */
  bestMs: figureSchema,
  /** The slowest, milliseconds. */
  worstMs: figureSchema,
  /** Sample standard deviation (n − 1), milliseconds. */
  sdMs: figureSchema,
  /** Coefficient of variation: the standard deviation in percent of the mean. */
  cvPercent: figureSchema,
});
export type Spread = z.infer<typeof spreadSchema>;

export const fadeSchema = z.object({
  /** Least-squares slope of time over the rep's number, seconds per rep; above 0: slower and slower. */
  secondsPerRep: figureSchema,
  /** The last time in percent of the first, less 100. */
  firstToLastPercent: figureSchema,
  /** Percentage decrement: all times together in percent of as many best ones, less 100. It ignores order. */
  decrementPercent: figureSchema,
  /** Faster and faster (slope below 0): not to be called fading, whatever the decrement. */
  descending: z.boolean(),
});
export type Fade = z.infer<typeof fadeSchema>;

export const hitsSchema = z.object({
  /** So much slower than the target, a 50, still is a hit, milliseconds. */
  toleranceMsPer50: z.number().min(0),
  /** Reps or paced parts that have a target and a time. */
  judged: count,
  /** Those of them at or under the target and its tolerance. */
  hits: count,
  /** Those of the hits that are faster than the target by more than the tolerance. */
  under: count,
  /** Reps or paced parts swum that have a target, but no time where it ends. */
  unjudged: count,
  /** Most hits one after the other; one that was not judged ends a run. */
  longestRun: count,
  /** The number of the first rep that missed; null when none did. */
  firstMiss: ordinal.nullable(),
  /** Distance swum at target: of the hits together, in the course's unit. */
  pacedDistance: z.number().min(0),
});
export type Hits = z.infer<typeof hitsSchema>;

export const restSchema = z.object({
  /** After how many reps the rest is known. */
  count,
  /** Mean time on the wall, ms; below 0 who comes in after the send-offs. */
  meanMs: figureSchema,
});
export type Rest = z.infer<typeof restSchema>;

export const powerRepSchema = z.object({
  /** The rep's number in the set. */
  rep: ordinal,
  /** Mass of the weight stack, kilograms. */
  loadKg: figureSchema,
  /** Force of the rope, newtons, where that was written down instead. */
  ropeN: z.number().positive().optional(),
  /** Time over the timed distance, milliseconds. */
  ms: figureSchema,
  /** Mean power that goes into lifting the stack, or against the rope, watts: not all that the swimmer gives. */
  watts: figureSchema,
});
export type PowerRep = z.infer<typeof powerRepSchema>;

export const powerSchema = z.object({
  /** Of the reps that were swum. */
  reps: z.array(powerRepSchema),
  /** Watts. */
  meanWatts: figureSchema,
  /** Watts. */
  bestWatts: figureSchema,
  /** By how much the last rep's power lies below the best rep's, percent of the best. */
  dropPercent: figureSchema,
});
export type Power = z.infer<typeof powerSchema>;

export const thresholdResultSchema = z.object({
  /** Mean time per 100 of the course's unit, milliseconds. */
  meanPer100Ms: figureSchema,
  /** By how much that is above the pace it is held against, milliseconds per 100; below 0: faster. */
  overPer100Ms: figureSchema,
  /** Held against the swimmer's threshold pace, or where that is not known against the mean of the targets. */
  against: z.enum(['threshold', 'targets', 'nothing']),
  /** The slope again: seconds per rep. */
  driftSecondsPerRep: figureSchema,
});
export type ThresholdResult = z.infer<typeof thresholdResultSchema>;

export const signatureSchema = z.object({
  /** Style, reps × distance, stroke, activity, start, equipment, course. */
  loose: z.string(),
  /** The same with send-off and effort. */
  strict: z.string(),
});
/** What makes two sets the same set, swum again. A push and a dive never make the same. */
export type Signature = z.infer<typeof signatureSchema>;

export const earlierMeanSchema = z.object({
  signature: signatureSchema,
  /** Mean time of its reps, milliseconds. */
  meanMs: z.number(),
  /** When it was swum. */
  at: instantSchema,
});
/** What a swimmer's set came to another time. */
export type EarlierMean = z.infer<typeof earlierMeanSchema>;

export const changeResultSchema = z.object({
  /** Mean now less the mean then, milliseconds; below 0: faster. */
  meanMs: figureSchema,
  /** Which likeness the sets have: the strict one, or the loose one with another send-off or effort. */
  likeness: z.enum(['strict', 'loose']),
  /** When it was swum then. */
  at: instantSchema,
});
export type ChangeResult = z.infer<typeof changeResultSchema>;

export const MISSING = ['not swum', 'not timed', 'nothing to time'] as const;
export const missingSchema = z.enum(MISSING);
/** not swum: never left on it; not timed: left, and no finish counts; nothing to time: a rep of so many seconds. */
export type Missing = z.infer<typeof missingSchema>;

export const splitTimeSchema = z.object({
  /** How far into the rep, in the course's unit. */
  distance: z.number().positive(),
  /** Running time from the swimmer's send-off. */
  ms: msSchema,
  /** Where it was taken: at a turn (feet in free and back, hands in breast and fly) or between the walls. */
  takenAt: z.enum(['turn', 'mid-pool']),
});
export type SplitTime = z.infer<typeof splitTimeSchema>;

export const repTimeSchema = z.object({
  /** Its number among the swimmer's reps of the set, all rounds in order. */
  rep: ordinal,
  /** The step's id. */
  step: z.string(),
  lane: laneNumberSchema,
  round: ordinal.optional(),
  outerRound: ordinal.optional(),
  /** In the course's unit; absent for a rep of so many seconds. */
  distance: z.number().positive().optional(),
  /** How long a rep of so many seconds lasts. */
  timedMs: msSchema.optional(),
  /** What the sheet has for it, the rest in it included. */
  cycleMs: msSchema,
  stroke: z.string(),
  activity: activitySchema,
  /** A time from a push is never held against one from a dive. */
  start: z.enum(['push', 'dive']),
  /** How often the swimmer left on it: of a rep repeated with `back` the last time counts, the others do not. */
  passes: count,
  /** The last send-off; null when not swum. */
  leftAt: instantSchema.nullable(),
  /** From send-off to finish, by hand at the touch; null when missing. */
  ms: msSchema.nullable(),
  /** Why there is no time; absent when there is one. */
  missing: missingSchema.optional(),
  /** Times taken on the way, in order of distance. */
  splits: z.array(splitTimeSchema),
  /** What was asked of the swimmer; ms null and no splits where nothing was. */
  target: z.object({ ms: msSchema.nullable(), estimated: z.boolean(), splits: z.array(splitSchema) }),
  /** From the touch to the swimmer's next send-off, milliseconds. */
  restMs: figureSchema,
});
/** One rep of one swimmer. */
export type RepTime = z.infer<typeof repTimeSchema>;

export const LEAD_METRICS = [
  'hits',
  'run',
  'paced distance',
  'rest',
  'mean',
  'spread',
  'finish',
  'change',
  'first',
  'best',
  'fade',
  'load',
  'time',
  'power',
  'drop',
  'threshold',
  'drift',
] as const;
export type LeadMetric = (typeof LEAD_METRICS)[number];

/** What of a set's figures comes first, by what the set was for. */
export const LEADS: Readonly<Record<Style, readonly LeadMetric[]>> = {
  'race pace': ['hits', 'run', 'paced distance'],
  'active rest': ['hits', 'rest'],
  'best average': ['mean', 'spread', 'finish', 'change'],
  'stand-up': ['first', 'best', 'fade'],
  power: ['load', 'time', 'power', 'drop'],
  threshold: ['threshold', 'drift'],
  aerobic: ['mean', 'spread'],
  skills: ['mean', 'spread'],
};

export const swimmerResultsSchema = z.object({
  swimmer: swimmerIdSchema,
  /** All the swimmer's reps of the set, the missing ones among them. */
  reps: z.array(repTimeSchema),
  signature: signatureSchema,
  spread: spreadSchema,
  fade: fadeSchema,
  /** Mean of the last quarter of the times less the mean of the first, milliseconds. */
  finishMs: figureSchema,
  hits: hitsSchema,
  rest: restSchema,
  power: z.union([powerSchema, noneSchema]),
  threshold: thresholdResultSchema,
  change: z.union([changeResultSchema, noneSchema]),
  lead: z.object({
    metrics: z.array(z.enum(LEAD_METRICS)),
    /** The same in one line of plain words. */
    line: z.string(),
  }),
});
/** What a swimmer's times of a set say. */
export type SwimmerResults = z.infer<typeof swimmerResultsSchema>;

export const setResultsSchema = z.object({
  /** Index into the sheet's sets. */
  set: count,
  /** Line of the practice. */
  line: ordinal,
  words: z.string(),
  style: styleSchema,
  /** By lane and in the order in which they leave. */
  swimmers: z.array(swimmerResultsSchema),
});
export type SetResults = z.infer<typeof setResultsSchema>;

export const swumSetSchema = z.object({
  /** When it began. */
  at: instantSchema,
  style: styleSchema,
  /** Metres. */
  metres: z.number().min(0),
  /** Milliseconds. */
  ms: z.number().min(0),
});
/** A set that was swum, as a week counts it. */
export type SwumSet = z.infer<typeof swumSetSchema>;

export const weekSchema = z.object({
  /** The seventh of the days, YYYY-MM-DD on the pool's clock. */
  day: z.iso.date(),
  byStyle: z.array(
    z.object({
      style: styleSchema,
      sets: count,
      metres: z.number().min(0),
      /** Not rounded. */
      minutes: z.number().min(0),
    }),
  ),
  /** Styles without a single set. */
  leftOut: z.array(z.enum(STYLES)),
});
/** Seven days of training, a day and the six before it. */
export type Week = z.infer<typeof weekSchema>;

/** The loads of the reps, each once: masses of the stack and forces of the rope; empty where none is known. */
export const loadsOf = ({ reps }: Power): { readonly kg: number[]; readonly newtons: number[] } => ({
  kg: [...new Set(reps.flatMap(({ loadKg }) => (isKnown(loadKg) ? [loadKg] : [])))],
  newtons: [...new Set(reps.flatMap(({ ropeN }) => ropeN ?? []))],
});

/** The fastest over the distance that power is worked out for, ms; where there is none to work out, the fastest rep. */
export function fastestOf({ power, spread }: Pick<SwimmerResults, 'power' | 'spread'>): Figure {
  if (!isKnown(power)) return spread.bestMs;
  const times = power.reps.flatMap(({ ms }) => (isKnown(ms) ? [ms] : []));
  return times.length > 0 ? Math.min(...times) : none('no times');
}
