import { z } from 'zod';
import {
  commandIdSchema,
  deviceIdSchema,
  instantSchema,
  laneNumberSchema,
  runIdSchema,
  sheetHashSchema,
} from './brand.ts';
import { changeSchema } from './changes.ts';
import { laneMotionSchema } from './motion.ts';

export const RUN_STATES = ['ready', 'running', 'held', 'finished'] as const;
export const runStateSchema = z.enum(RUN_STATES);
/** [RUN4] `ready → running ⇄ held → finished`; finish from any of them. */
export type RunState = z.infer<typeof runStateSchema>;

export const EVENT_KINDS = [
  'start',
  'hold',
  'resume',
  'go',
  'next',
  'nextSet',
  'back',
  'shift',
  'realign',
  'recall',
  'undo',
  'change',
  'finish',
] as const;

export const runEventSchema = z.object({
  run: runIdSchema,
  /** 1, 2, 3 … without a gap. */
  seq: z.number().int().min(1),
  kind: z.enum(EVENT_KINDS),
  command: commandIdSchema,
  device: deviceIdSchema,
  /** [CMD4] When it takes effect: the press, as far as it may count. */
  at: instantSchema,
  decidedAt: instantSchema,
  /** The lane a shift or realign is for. */
  lane: laneNumberSchema.optional(),
  /** By how much it moved that lane: later (+) or earlier (−), ms. */
  byMs: z.number().int().optional(),
  /** The gate a go opened, or a start that had one alone before it: an index into the sheet's joins. */
  gate: z.number().int().min(0).optional(),
  /** The event that an undo or a recall takes back. */
  takesBack: z.number().int().min(1).optional(),
  /** [CMD7] What was changed of the practice. */
  change: changeSchema.optional(),
  /** The version of the sheet that the lanes swim by from now on; absent: the same as before. */
  sheet: sheetHashSchema.optional(),
  /** [RUN2] The run's state and every lane's vector afterwards. */
  state: runStateSchema,
  motions: z.array(laneMotionSchema),
});
/** Something that happened to a run, with its effect. The events are the truth; the run is their fold. */
export type RunEvent = z.infer<typeof runEventSchema>;

export const runSchema = z.object({
  id: runIdSchema,
  sheet: sheetHashSchema,
  state: runStateSchema,
  /** Of the last event folded; 0 before the first. */
  seq: z.number().int().min(0),
  motions: z.array(laneMotionSchema),
  /** When the last event took effect; absent before the first. */
  changedAt: instantSchema.optional(),
  /** What the last event was: what an undo would take back. */
  changedBy: z.enum(EVENT_KINDS).optional(),
  /** When the last go took effect, while nothing but holds and shifts came after it: what a recall would take back. */
  wentAt: instantSchema.optional(),
});
/** A practice being swum: motion along one sheet. */
export type Run = z.infer<typeof runSchema>;
