import { z } from 'zod';
import { laneNumberSchema, msSchema } from '../../shared-types/brand.ts';
import { messageSchema } from '../../shared-types/message.ts';
import { courseSchema, END_NAMES, PACES, PERCENTS, REFERENCE_KINDS } from '../../shared-types/pool.ts';
import { STYLES } from '../../shared-types/practice.ts';
import { repNumbers } from '../../shared-types/sheet.ts';
import { activitySchema } from '../../shared-types/squad.ts';

/**
 * What `sheet --json` prints. Nothing more is allowed in it, and its keys stand in the order written here, so that
 * reading it with this schema and printing it again gives the same text. Times are milliseconds, distances are in the
 * course's unit.
 */

const index = z.number().int().min(0);
const count = z.number().int().min(1);
const distance = z.number().min(0);
const styleSchema = z.enum(STYLES);

const byStyleSchema = z.partialRecord(
  styleSchema,
  z.strictObject({ distance, sets: index, minutes: z.number().min(0) }),
);

const sectionVolumeSchema = z.strictObject({
  section: z.string(),
  line: count,
  distance,
  sets: index,
  /** Rests and waits included: the sections of a lane add up to its `durationMs`. */
  durationMs: msSchema,
});

const targetSchema = z.strictObject({
  swimmer: z.string(),
  /** The whole rep; null where there is nothing to hold. */
  ms: msSchema.nullable(),
  restMs: msSchema.nullable(),
  /** `1:1.3`; absent where there is no rest. */
  workRest: z
    .string()
    .regex(/^1:\d+\.\d$/)
    .optional(),
  basis: z.string(),
  estimated: z.boolean(),
  /** `ms` runs from the swimmer's own send-off. */
  splits: z.array(
    z.strictObject({ distance, ms: msSchema, paced: z.boolean(), estimated: z.literal(true).optional() }),
  ),
});

const stepStart = { id: z.string() };
const stepPlace = { atMs: msSchema, durationMs: msSchema, line: count, section: z.string() };

const repSchema = z.strictObject({
  ...stepStart,
  kind: z.literal('rep'),
  ...stepPlace,
  style: styleSchema,
  ...repNumbers,
  distance: distance.optional(),
  timedMs: msSchema.optional(),
  stroke: z.string(),
  activity: activitySchema,
  start: z.enum(['push', 'dive']),
  fromEnd: z.enum(END_NAMES),
  toEnd: z.enum(END_NAMES),
  apartMs: msSchema,
  equipment: z.array(z.string()),
  effort: z.string().optional(),
  targets: z.array(targetSchema),
});

const restSchema = z.strictObject({
  ...stepStart,
  kind: z.literal('rest'),
  reason: z.enum(['rest', 'between', 'join']),
  ...stepPlace,
});

const gateSchema = z.strictObject({ ...stepStart, kind: z.literal('gate'), ...stepPlace });

const laneSchema = z.strictObject({
  lane: laneNumberSchema,
  group: z.string(),
  apartMs: msSchema,
  durationMs: msSchema,
  distance,
  byStyle: byStyleSchema,
  bySection: z.array(sectionVolumeSchema),
  swimmers: z.array(z.strictObject({ name: z.string(), order: count })),
  steps: z.array(z.discriminatedUnion('kind', [repSchema, restSchema, gateSchema])),
});

export const printedSheetSchema = z.strictObject({
  title: z.string().optional(),
  course: courseSchema,
  durationMs: msSchema,
  /** Of the lane that swims most, as are `byStyle` and `bySection`. */
  distance,
  conventions: z.strictObject({
    percent: z.enum(PERCENTS),
    pace: z.enum(PACES),
    easyShare: z.number(),
    prefer: z.enum(REFERENCE_KINDS),
  }),
  groups: z.array(z.string()),
  sets: z.array(
    z.strictObject({
      line: count,
      section: z.string(),
      style: styleSchema,
      styleReason: z.string(),
      words: z.string(),
      detail: z.string(),
    }),
  ),
  lanes: z.array(laneSchema),
  byStyle: byStyleSchema,
  bySection: z.array(sectionVolumeSchema),
  /** Send-offs that leave everybody at least the rest asked for, set by set. */
  suggested: z
    .strictObject({
      restMs: msSchema,
      sets: z.array(
        z.strictObject({
          line: count,
          words: z.string(),
          sendOffs: z.array(z.strictObject({ group: z.string(), intervalMs: msSchema })),
        }),
      ),
    })
    .optional(),
  messages: z.array(z.strictObject(messageSchema.shape)),
});
export type PrintedSheet = z.infer<typeof printedSheetSchema>;
export type PrintedLane = PrintedSheet['lanes'][number];
export type PrintedStep = PrintedLane['steps'][number];
export type PrintedRep = Extract<PrintedStep, { kind: 'rep' }>;
export type PrintedTarget = PrintedRep['targets'][number];
export type SectionVolume = PrintedSheet['bySection'][number];
