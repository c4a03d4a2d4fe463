import { z } from 'zod';
import { laneNumberSchema, type SwimmerId, swimmerIdSchema } from './brand.ts';
import { isolated } from './isolated.ts';

export const MESSAGE_CODES = [
  'unreadable',
  'parts-sum',
  'part-lengths',
  'group-count',
  'indent',
  'too-much',
  'needs-target',
  'cannot-make-it',
  'no-reference',
  'catches',
  'lane-full',
  'send-overflow',
  'dive-gap',
  'wall-rest',
  'pool-time',
  'mid-pool',
  'time-unknown',
  'estimated',
  'note',
  'caution',
  'unknown-style',
] as const;

const time = z.number().int().min(0);

export const cureSchema = z.discriminatedUnion('kind', [
  /** So many characters of the message's line, from a column on, are another text. */
  z.object({
    kind: z.literal('replace'),
    column: z.number().int().min(1),
    length: z.number().int(),
    insert: z.string(),
  }),
  /** The line's gap between swimmers, ms. */
  z.object({ kind: z.literal('gap'), apartMs: time }),
  /** What stands after the line's @, `1:10/1:15`. */
  z.object({ kind: z.literal('send-offs'), sendOffs: z.string() }),
  /** Everybody of a lane, in the order in which they should leave. */
  z.object({ kind: z.literal('order'), lane: laneNumberSchema, swimmers: z.array(swimmerIdSchema) }),
]);
/** What a desk can do about a message at a press. */
export type MessageCure = z.infer<typeof cureSchema>;

export const messageSchema = z.object({
  /** error: no sheet; warning: sheet made, the coach should look. */
  severity: z.enum(['error', 'warning', 'info']),
  code: z.enum(MESSAGE_CODES),
  line: z.number().int(),
  column: z.number().int(),
  lane: laneNumberSchema.optional(),
  /** One plain sentence. */
  text: z.string(),
  /** What to write instead, where that is known. */
  fix: z.string().optional(),
  /** The same where it can be done at a press. */
  cure: cureSchema.optional(),
});
export type Message = z.infer<typeof messageSchema>;

/** How the caution about dives begins, by which a deck finds it. */
export const DIVES = 'dive starts';

/** Swimmers are named in a message's text by id, `{id}`, so that no name is ever stored with a sheet. */
export const mention = (swimmer: SwimmerId): string => `{${swimmer}}`;

/** The text with each swimmer called what `labels` says; "a swimmer" for one who is gone. */
export const withNames = (text: string, labels: Readonly<Record<string, string>>): string =>
  text.replace(/\{([0-9a-f]{32})\}/g, (_, id: string) => isolated(labels[id] ?? 'a swimmer'));
