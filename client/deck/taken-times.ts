import type { Departure } from '../../shared-types/departures.ts';
import {
  foldMarks,
  type Mark,
  type MarkBook,
  type MarkCommand,
  type MarkEvent,
  marksOf,
} from '../../shared-types/marks.ts';

/** The times of a run as the deck has them: the server's, and what still lies in the outbox. Pure. */

/**
 * What a waiting command will come to, as far as this page can tell; null when the server has said it already. Only
 * marks and voids: this page makes nothing else.
 */
function foreseen(command: MarkCommand, book: MarkBook, departures: readonly Departure[]): MarkEvent | null {
  const { id, device, run } = command;
  const base = { run, seq: book.seq + 1, command: id, device };
  if (command.kind === 'void') {
    const { mark } = command;
    const known = book.entries.get(mark);
    return known && !known.isVoid ? { ...base, kind: 'void', mark, decidedAt: known.pressedAt } : null;
  }
  if (command.kind !== 'mark' || book.entries.has(id)) return null;
  const { swimmer, step, pass, distance, pressedAt } = command;
  const left = departures.find((one) => one.swimmer === swimmer && one.step === step && one.pass === pass);
  const leftAt = left && left.at <= pressedAt ? left.at : null;
  const place = { swimmer, step, pass, distance, lane: left?.lane ?? null, leftAt };
  return { ...base, kind: 'mark', mark: id, decidedAt: pressedAt, pressedAt, place };
}

/** [CMD8] The run's marks with those that the server has yet to answer. */
export function takenTimes(
  book: MarkBook,
  waiting: readonly MarkCommand[],
  run: MarkCommand['run'],
  departures: readonly Departure[],
): Mark[] {
  const whole = waiting.reduce((known, command) => {
    const event = command.run === run ? foreseen(command, known, departures) : null;
    return event ? foldMarks(known, [event]) : known;
  }, book);
  return marksOf(whole);
}
