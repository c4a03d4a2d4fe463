import { z } from 'zod';
import { deviceIdSchema } from '../brand.ts';
import { ROLES } from './protocol.ts';

/**
 * What screens send, each with an acknowledgement. Event names: `hello`, `sync`, `command` (a Command, see
 * commands.ts) and `mark` (a MarkCommand, see marks.ts), both from decks and desks only, and `status`.
 */

export const ASKED = ['sync', 'hello', 'status', 'command', 'mark'] as const;
export type Asked = (typeof ASKED)[number];

export const helloSchema = z.object({
  /** The protocol versions this page can speak. */
  protocols: z.array(z.number().int()).max(16),
  role: z.enum(ROLES),
  device: deviceIdSchema,
});
export type Hello = z.infer<typeof helloSchema>;

/** [SYN1] One exchange: the page's own clock when it asked, ms. */
export const syncAskSchema = z.object({ askedAt: z.number() });

/** [SYN5] A screen's own report, now and then. */
export const statusSchema = z.object({
  /** Bound of the clock's error, ms; null before the first estimate. */
  syncBoundMs: z.number().nullable(),
  /** In CSS pixels. */
  width: z.number().int(),
  height: z.number().int(),
  renderer: z.string().max(40).optional(),
  /** Of walls: from how far all that must be read on it can be, metres. */
  readableToM: z.number().min(0).optional(),
  /** Of walls: where its farthest reader is, metres, as set up, by its address or as is usual. */
  seenFromM: z.number().positive().optional(),
});
export type Status = z.infer<typeof statusSchema>;
