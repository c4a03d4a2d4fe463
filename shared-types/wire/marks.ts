import { z } from 'zod';
import { instantSchema } from '../brand.ts';
import { departureSchema } from '../departures.ts';
import { markEventSchema } from '../marks.ts';

/**
 * HTTP questions of decks and desks about a run, for catching up with its times.
 *
 * | request | answer |
 * | --- | --- |
 * | GET /api/runs/:id/marks?after=seq | MarksAnswer: so many events after that one as one answer holds |
 * | GET /api/runs/:id/departures?before=instant | DeparturesAnswer: of the last hour, or of the hour before that instant |
 */

export const marksAnswerSchema = z.object({
  /** In order, without a gap. */
  events: z.array(markEventSchema),
  /** The last there is: while it is beyond these events, there are more to ask for. */
  last: z.number().int().min(0),
});
export type MarksAnswer = z.infer<typeof marksAnswerSchema>;

export const departuresAnswerSchema = z.object({
  /** The control event up to which the departures are known. */
  seq: z.number().int().min(0),
  /** So far it is known who left. */
  until: instantSchema,
  /** Who left before this instant is not among them, and is asked for with `before`; absent: nobody did. */
  earlier: instantSchema.optional(),
  departures: z.array(departureSchema),
});
export type DeparturesAnswer = z.infer<typeof departuresAnswerSchema>;
