import { z } from 'zod';
import { commandIdSchema, deviceIdSchema, instantSchema, laneNumberSchema, runIdSchema } from './brand.ts';
import { changeSchema } from './changes.ts';

/** When lanes set off: on the pool clock's next round reading that leaves a lead-in, at once, or on a quarter. */
export const whenSchema = z.enum(['grid', 'now', ':00', ':15', ':30', ':45']);
export type When = z.infer<typeof whenSchema>;

const base = {
  /** [CMD1] Made on the device; a command sent ten times acts once. */
  id: commandIdSchema,
  device: deviceIdSchema,
  run: runIdSchema,
  /** The pool instant of the press, as the device's synchronised clock had it. */
  pressedAt: instantSchema,
  /** [CMD3] The last event the device had seen. */
  basedOnSeq: z.number().int().min(0),
};

/** How far one shift may move a lane, ms. */
export const MOST_SHIFT_MS = 60_000;

export const commandSchema = z.discriminatedUnion('kind', [
  z.object({ ...base, kind: z.literal('start'), when: whenSchema }),
  z.object({ ...base, kind: z.literal('hold') }),
  z.object({ ...base, kind: z.literal('resume'), when: whenSchema }),
  /** Opens a gate: an index into the sheet's joins. */
  z.object({ ...base, kind: z.literal('go'), when: whenSchema, gate: z.number().int().min(0) }),
  /** To the next send-off, or to the gate before it. */
  z.object({ ...base, kind: z.literal('next'), when: whenSchema }),
  /** To the first send-off of the next set, or to the gate before it. */
  z.object({ ...base, kind: z.literal('nextSet'), when: whenSchema }),
  /** Repeats the rep in hand; during its lead-in, the one before. */
  z.object({ ...base, kind: z.literal('back'), when: whenSchema }),
  /** One lane later (+) or earlier (−), until the next join. */
  z.object({
    ...base,
    kind: z.literal('shift'),
    lane: laneNumberSchema,
    byMs: z.number().int().min(-MOST_SHIFT_MS).max(MOST_SHIFT_MS),
  }),
  /** Takes back what a lane has been shifted since it last set off with the others. */
  z.object({ ...base, kind: z.literal('realign'), lane: laneNumberSchema }),
  /** A false start: the last go is taken back, and nobody has left on it. */
  z.object({ ...base, kind: z.literal('recall') }),
  /** The newest control event as if it had never been pressed. */
  z.object({ ...base, kind: z.literal('undo') }),
  /** [CMD7] Another version of the sheet. */
  z.object({ ...base, kind: z.literal('change'), change: changeSchema }),
  z.object({ ...base, kind: z.literal('finish') }),
]);
export type Command = z.infer<typeof commandSchema>;
export type CommandKind = Command['kind'];

export const refusalSchema = z.object({
  ok: z.literal(false),
  code: z.enum(['not-now', 'overtaken', 'stale', 'ahead', 'no-run', 'unknown-lane', 'not-stored', 'unknown-mark']),
  /** One plain sentence. */
  message: z.string(),
  fix: z.string().optional(),
  /** For `overtaken`: what other devices did meanwhile, in words. */
  since: z.array(z.string()).optional(),
});
/** Why a command was not carried out. Refusals are stored and repeated like answers. */
export type Refusal = z.infer<typeof refusalSchema>;

export const answerSchema = z.discriminatedUnion('ok', [
  z.object({ ok: z.literal(true), seq: z.number().int() }),
  refusalSchema,
]);
export type Answer = z.infer<typeof answerSchema>;
