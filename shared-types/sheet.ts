import { z } from 'zod';
import { laneNumberSchema, msSchema, swimmerIdSchema } from './brand.ts';
import { messageSchema } from './message.ts';
import { courseSchema, END_NAMES, PACES, PERCENTS, referenceKindSchema } from './pool.ts';
import { STYLES } from './practice.ts';
import { activitySchema } from './squad.ts';

/**
 * The run sheet: everything computed from a practice, a squad and a pool, once. Times are milliseconds on a
 * lane's own axis, which starts at 0 and stands still at gates; nothing here depends on the time of day.
 */

const index = z.number().int().min(0);
const count = z.number().int().min(1);
const endSchema = z.enum(END_NAMES);
export const styleSchema = z.enum(STYLES);

export const splitSchema = z.object({
  /** How far into the rep, in the course's unit. */
  distance: z.number().positive(),
  /** Running time from the swimmer's own send-off, easy parts included. */
  ms: msSchema,
  /** Whether the stretch that ends here is paced (or easy). */
  paced: z.boolean(),
  /** On a paced stretch whose time is an estimate. */
  estimated: z.literal(true).optional(),
});

export const targetSchema = z.object({
  swimmer: swimmerIdSchema,
  /** The whole rep; null where there is no reference, or nothing to hold. */
  ms: msSchema.nullable(),
  /** Rest really left after the touch; null where the rep is released by the coach or there is no target. */
  restMs: msSchema.nullable(),
  /** Where the number comes from, in words; coaches only. */
  basis: z.string().optional(),
  estimated: z.boolean(),
  splits: z.array(splitSchema),
});
/** What one swimmer holds in a rep. Kept once and pointed at by every rep it is for. */
export type Target = z.infer<typeof targetSchema>;

export const sheetSetSchema = z.object({
  /** What the ids of its steps begin with; absent on sheets from before a practice could be changed as it is swum. */
  key: z.string().optional(),
  line: count,
  section: index,
  style: styleSchema,
  /** Why this style, in words. */
  styleReason: z.string(),
  /** `8 × 50 free`, the set in words without send-offs. */
  words: z.string(),
  /** `at 200 pace, from a dive`; empty when there is nothing to say. */
  detail: z.string(),
  activity: activitySchema,
  equipment: z.array(z.string()),
  /** How its reps are released; absent on sheets from before a practice could be changed as it is swum. */
  release: z.enum(['interval', 'rest', 'go']).optional(),
  /** The rest as it was written; absent on other sets, and on sheets from before it was kept. */
  restMs: msSchema.optional(),
  /** Over how much of a rep it is timed, in the course's unit; absent: the whole rep. */
  timedDistance: z.number().positive().optional(),
});
/** One set line of the practice (or one set of an inline line). */
export type SheetSet = z.infer<typeof sheetSetSchema>;

const stepBase = {
  /** `line.outer.round.rep`, stable across versions of the sheet. */
  id: z.string(),
  /** When the lane's first swimmer leaves, or the rest or gate begins. */
  atMs: msSchema,
  durationMs: msSchema,
  line: count,
  section: index,
};

/** Which of how many rounds, reps and heats a rep is. */
export const repNumbers = {
  outerRound: count.optional(),
  outerRounds: count.optional(),
  round: count.optional(),
  rounds: count.optional(),
  rep: count,
  reps: count,
  /** In heats only the swimmer with this place in the lane leaves. */
  heat: count.optional(),
  heats: count.optional(),
};

const repStepSchema = z.object({
  ...stepBase,
  kind: z.literal('rep'),
  /** Index into `sets`. */
  set: index,
  ...repNumbers,
  distance: z.number().positive().optional(),
  timedMs: msSchema.optional(),
  stroke: z.string(),
  effort: z.string().optional(),
  start: z.enum(['push', 'dive']),
  fromEnd: endSchema,
  toEnd: endSchema,
  /** Gap between this lane's swimmers on this rep. */
  apartMs: msSchema,
  /** Indices into `targets`, in the order in which the swimmers leave. */
  targets: z.array(index),
  /** Who swims it: an index into the lane's `lineups`; absent: the lane's `swimmers`. */
  lineup: index.optional(),
});

const restStepSchema = z.object({
  ...stepBase,
  kind: z.literal('rest'),
  /** `rest`: written; `between`: between rounds; `join`: waiting for slower lanes. */
  reason: z.enum(['rest', 'between', 'join']),
});

const gateStepSchema = z.object({ ...stepBase, kind: z.literal('gate') });

export const stepSchema = z.discriminatedUnion('kind', [repStepSchema, restStepSchema, gateStepSchema]);
export type RepStep = z.infer<typeof repStepSchema>;
export type RestStep = z.infer<typeof restStepSchema>;
export type GateStep = z.infer<typeof gateStepSchema>;
export type Step = z.infer<typeof stepSchema>;

export const sheetLaneSchema = z.object({
  lane: laneNumberSchema,
  group: z.string(),
  apartMs: msSchema,
  durationMs: msSchema,
  /** What one swimmer of the lane swims, in the course's unit. */
  distance: z.number().min(0),
  /** In the order in which they leave. */
  swimmers: z.array(swimmerIdSchema).max(12),
  /** Who swims, in the order in which they leave, after swimmers have been moved. */
  lineups: z.array(z.array(swimmerIdSchema).max(12)).optional(),
  steps: z.array(stepSchema),
});
export type SheetLane = z.infer<typeof sheetLaneSchema>;

export const joinSchema = z.object({
  /** Like a step's; absent on sheets from before a practice could be changed as it is swum. */
  id: z.string().optional(),
  /** The same place on the axis of each of its lanes. */
  atMs: msSchema,
  lanes: z.array(laneNumberSchema),
  /** A gate stays shut until the coach opens it; any other join opens when its last lane arrives. */
  gate: z.boolean(),
});
/** A place where lanes wait for each other. */
export type Join = z.infer<typeof joinSchema>;

export const sheetSchema = z.object({
  title: z.string().optional(),
  course: courseSchema,
  conventions: z.object({
    percent: z.enum(PERCENTS),
    pace: z.enum(PACES),
    easyShare: z.number(),
    /** Absent on sheets from before it could be chosen: goal. */
    prefer: referenceKindSchema.optional(),
  }),
  groups: z.array(z.string()),
  durationMs: msSchema,
  /** Of the lane that swims most. */
  distance: z.number(),
  sections: z.array(z.object({ name: z.string(), line: count })),
  sets: z.array(sheetSetSchema),
  lanes: z.array(sheetLaneSchema).max(12),
  /** In the order of the practice; of two joins that share a lane the earlier one comes first. */
  joins: z.array(joinSchema),
  targets: z.array(targetSchema),
  /** Of the lane that swims most: distance, sets and minutes of each style. */
  byStyle: z.partialRecord(styleSchema, z.object({ distance: z.number(), sets: z.number(), minutes: z.number() })),
  messages: z.array(messageSchema),
});
export type Sheet = z.infer<typeof sheetSchema>;

/** The lane with this number, or undefined when nobody swims there. */
export const laneOf = (sheet: Sheet, lane: number): SheetLane | undefined =>
  sheet.lanes.find((candidate) => candidate.lane === lane);

/** The targets of a rep, in the order in which its swimmers leave. */
export const targetsOf = (sheet: Sheet, step: RepStep): Target[] =>
  step.targets.flatMap((place) => sheet.targets[place] ?? []);

/** Where the whole rep ends, if anything is known of it. */
export const lastSplitOf = (target: Target | null | undefined): Target['splits'][number] | undefined =>
  target?.splits[target.splits.length - 1];

/** Whether it has paced and easy parts. */
export const isMixed = ({ splits }: Target): boolean =>
  splits.some(({ paced }) => !paced) && splits.some(({ paced }) => paced);

/** Who swims a rep, in the order in which they leave. */
export const lineupOf = (lane: SheetLane, { lineup }: RepStep): SheetLane['swimmers'] =>
  lineup === undefined ? lane.swimmers : (lane.lineups?.[lineup] ?? []);

/** Everybody who swims in a lane at some time of the practice. */
export const everybodyIn = ({ swimmers, lineups }: SheetLane): SheetLane['swimmers'] => [
  ...new Set([...swimmers, ...(lineups ?? []).flat()]),
];

/**
 * The swimmers who leave on this step, with each one's delay after the lane's send-off in ms:
 * the k-th leaves (k − 1) gaps later; in heats one swimmer leaves, at once.
 */
export function departuresOf(
  lane: SheetLane,
  step: RepStep,
): { swimmer: SheetLane['swimmers'][number]; afterMs: number }[] {
  const swimmers = lineupOf(lane, step);
  if (step.heat !== undefined) {
    const swimmer = swimmers[step.heat - 1];
    return swimmer === undefined ? [] : [{ swimmer, afterMs: 0 }];
  }
  return swimmers.map((swimmer, place) => ({ swimmer, afterMs: place * step.apartMs }));
}
