import type { Instant } from '../../shared-types/brand.ts';
import type { Refusal } from '../../shared-types/commands.ts';
import type { MarkBook, MarkCommand, MarkEntry, MarkEvent, MarkPlace } from '../../shared-types/marks.ts';
import type { Sheet } from '../../shared-types/sheet.ts';
import type { RunDepartures } from './departure-log.ts';

/** What a mark is placed in. */
export interface MarkContext {
  readonly sheet: Sheet;
  readonly departures: RunDepartures;
  readonly book: MarkBook;
}

type Wanted = Pick<MarkPlace, 'swimmer' | 'step' | 'pass' | 'distance'>;

const UNKNOWN_MARK: Refusal = {
  ok: false,
  code: 'unknown-mark',
  message: 'There is no such time to change.',
};

const NOTHING_CHANGED: Refusal = {
  ok: false,
  code: 'not-now',
  message: 'Nothing of this time has been changed.',
};

/**
 * [CMD5] [CMD6] What a mark or a repair comes to: an event, none when it is so already, or a refusal. A mark is never
 * refused here: one that fits no send-off is kept as it is, unplaced.
 */
export function decideMark(
  context: MarkContext,
  command: MarkCommand,
  now: Instant,
): { readonly event: MarkEvent | null } | Refusal {
  const { run, device } = command;
  const base = { run, seq: context.book.seq + 1, command: command.id, device, decidedAt: now };
  const placed = (wanted: Wanted, pressedAt: Instant): MarkPlace => placeOf(context, wanted, pressedAt, now);
  if ('pressedAt' in command) {
    const { id: mark, pressedAt } = command;
    const made = { ...base, mark, pressedAt, place: placed(command, pressedAt) };
    if (command.kind === 'miss') return { event: { ...made, kind: 'miss' } };
    return { event: { ...made, kind: 'mark', ...(command.typed ? { typed: command.typed } : {}) } };
  }
  const { mark } = command;
  const entry = context.book.entries.get(mark);
  if (!entry) return UNKNOWN_MARK;
  switch (command.kind) {
    case 'assign': {
      const place = placed(command, entry.pressedAt);
      return { event: isSo(entry, place) ? null : { ...base, kind: 'assign', mark, place } };
    }
    case 'void':
      return { event: entry.isVoid ? null : { ...base, kind: 'void', mark } };
    case 'restore': {
      const before = entry.before[entry.before.length - 1];
      if (!before) return NOTHING_CHANGED;
      const place = placed(before.place, entry.pressedAt);
      return { event: { ...base, kind: 'restore', mark, place, isVoid: before.isVoid } };
    }
  }
}

/**
 * The swimmer's send-off as it is known now. None when the swimmer did not leave so often on that step, or left after
 * the press.
 */
function placeOf({ sheet, departures }: MarkContext, wanted: Wanted, pressedAt: Instant, now: Instant): MarkPlace {
  const { swimmer, step, pass, distance } = wanted;
  const left = departures.find(swimmer, step, pass, now);
  const swims = sheet.lanes.find(({ swimmers }) => swimmers.includes(swimmer));
  return {
    swimmer,
    step,
    pass,
    distance,
    lane: left?.lane ?? swims?.lane ?? null,
    leftAt: left && left.at <= pressedAt ? left.at : null,
  };
}

const isSo = ({ place, isVoid }: MarkEntry, wanted: MarkPlace): boolean =>
  !isVoid &&
  place.swimmer === wanted.swimmer &&
  place.step === wanted.step &&
  place.pass === wanted.pass &&
  place.distance === wanted.distance &&
  place.leftAt === wanted.leftAt;
