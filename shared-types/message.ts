import { z } from 'zod';
import { laneNumberSchema, type SwimmerId } from './brand.ts';

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
});
export type Message = z.infer<typeof messageSchema>;

/** How the caution about dives begins, by which a deck finds it. */
export const DIVES = 'dive starts';

/** Swimmers are named in a message's text by id, `{id}`, so that no name is ever stored with a sheet. */
export const mention = (swimmer: SwimmerId): string => `{${swimmer}}`;

/** The text with each swimmer called what `labels` says; "a swimmer" for one who is gone. */
export const withNames = (text: string, labels: Readonly<Record<string, string>>): string =>
  text.replace(/\{([0-9a-f]{32})\}/g, (_, id: string) => labels[id] ?? 'a swimmer');
