import type { Instant } from '../../shared-types/brand.ts';
import type { Departure } from '../../shared-types/departures.ts';
import {
  foldMarks,
  type Mark,
  type MarkBook,
  type MarkCommand,
  type MarkEvent,
  type MarkPlace,
  marksOf,
} from '../../shared-types/marks.ts';

/** The times of a run as the deck has them: the server's, and what still lies in the outbox. Pure. */

/**
 * What a waiting command will come to, as far as this page can tell; null when the server has said it already, or when
 * it will change nothing.
 */
function foreseen(command: MarkCommand, book: MarkBook, departures: readonly Departure[]): MarkEvent | null {
  const { id, device, run } = command;
  const base = { run, seq: book.seq + 1, command: id, device };
  if ('pressedAt' in command) {
    if (book.entries.has(id)) return null;
    const { pressedAt } = command;
    const place = placeFrom(departures, command, pressedAt);
    const made = { ...base, mark: id, decidedAt: pressedAt, pressedAt, place };
    if (command.kind === 'miss') return { ...made, kind: 'miss' };
    return { ...made, kind: 'mark', ...(command.typed ? { typed: command.typed } : {}) };
  }
  const { mark } = command;
  const known = book.entries.get(mark);
  if (!known) return null;
  const repair = { ...base, mark, decidedAt: known.pressedAt };
  switch (command.kind) {
    case 'void':
      return known.isVoid ? null : { ...repair, kind: 'void' };
    case 'assign':
      return { ...repair, kind: 'assign', place: placeFrom(departures, command, known.pressedAt) };
    case 'restore': {
      const before = known.before[known.before.length - 1];
      return before ? { ...repair, kind: 'restore', place: before.place, isVoid: before.isVoid } : null;
    }
  }
}

/** What a mark counts from, by the departures that this page knows. */
function placeFrom(
  departures: readonly Departure[],
  { swimmer, step, pass, distance }: Pick<MarkPlace, 'swimmer' | 'step' | 'pass' | 'distance'>,
  pressedAt: Instant,
): MarkPlace {
  const left = departures.find((one) => one.swimmer === swimmer && one.step === step && one.pass === pass);
  const leftAt = left && left.at <= pressedAt ? left.at : null;
  return { swimmer, step, pass, distance, lane: left?.lane ?? null, leftAt };
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
