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
 * | GET /api/runs/:id/departures | DeparturesAnswer: of the last hour |
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
  /** Whoever left up to then is among them, or left more than an hour ago. */
  until: instantSchema,
  departures: z.array(departureSchema),
});
export type DeparturesAnswer = z.infer<typeof departuresAnswerSchema>;
