import { computed, type ReadonlySignal } from '@preact/signals';
import type { CommandId, Instant, LaneNumber, Ms } from '../../shared-types/brand.ts';
import { type Expected, expectedAt } from '../../shared-types/expected.ts';
import type { Mark } from '../../shared-types/marks.ts';
import { targetsOf } from '../../shared-types/sheet.ts';
import type { Link, LivePractice } from '../common/live.ts';
import { takenTimes } from './taken-times.ts';
import { differenceWords, timeWords } from './words.ts';

/** A second press on the same lane so soon is a drop of water, ms. */
const SAME_PRESS_MS = 700;

/** What a lane's row says of times. */
export interface LaneTime {
  /** Whose time is taken next; empty: nobody is on the way. */
  readonly next: string;
  /** The time taken last. */
  readonly last: { readonly id: CommandId; readonly words: string; readonly difference: string } | null;
}

/** [CMD5] Taking times, and taking them back. */
export interface LaneTimes {
  lane(lane: LaneNumber): LaneTime;
  /** Takes the time of the next expected swimmer of a lane. @param at the press's own instant */
  take(lane: LaneNumber, at: Instant): void;
  /** Takes back the time taken last in a lane. */
  takeBack(lane: LaneNumber, at: Instant): void;
}

class LastPresses {
  readonly #pressed = new Map<LaneNumber, Instant>();

  /** Whether this is still the lane's last press; if not, it is its last one now. */
  isSame(lane: LaneNumber, at: Instant): boolean {
    const isSame = Math.abs(at - (this.#pressed.get(lane) ?? Number.NEGATIVE_INFINITY)) < SAME_PRESS_MS;
    if (!isSame) this.#pressed.set(lane, at);
    return isSame;
  }
}

/** @param tell says in words what went wrong */
export function laneTimesOver(link: Link, now: ReadonlySignal<Instant>, tell: (words: string) => void): LaneTimes {
  const taken = computed((): Mark[] => {
    const run = link.practice.value?.run;
    const { book, waiting } = link.times;
    return run ? takenTimes(book.value, waiting.value, run.id, link.times.departuresAt(now.peek())) : [];
  });
  const [taking, takingBack] = [new LastPresses(), new LastPresses()];
  const expected = (lane: LaneNumber, at: Instant): Expected | undefined => {
    const practice = link.practice.value;
    return practice ? expectedOf(link, practice, taken.value, lane, at)[0] : undefined;
  };
  const send = (marking: Parameters<Link['times']['mark']>[0]): void => {
    if (link.times.mark(marking) === null) tell('This time could not be kept: too many wait for the server.');
  };
  return {
    lane: (lane) => {
      const practice = link.practice.value;
      const next = expected(lane, now.value);
      const last = lastOf(taken.value, lane);
      return {
        next: next && practice ? nameOf(practice, next) : '',
        last: last && practice ? lastWords(practice, last) : null,
      };
    },
    take: (lane, at) => {
      const next = expected(lane, at);
      if (!next || taking.isSame(lane, at)) return;
      const { swimmer, step, pass, distance } = next;
      send({ kind: 'mark', swimmer, step, pass, distance, pressedAt: at });
    },
    takeBack: (lane, at) => {
      const last = lastOf(taken.value, lane);
      if (last && !takingBack.isSame(lane, at)) send({ kind: 'void', mark: last.id });
    },
  };
}

function expectedOf(
  link: Link,
  { sheet, run }: LivePractice,
  marks: readonly Mark[],
  lane: LaneNumber,
  at: Instant,
): Expected[] {
  const taken = marks.filter(({ state }) => state === 'counts' || state === 'second');
  const finishedAt = run.state === 'finished' ? (run.changedAt ?? null) : null;
  return expectedAt({ sheet, departures: link.times.departuresAt(at), taken, finishedAt }, lane, at);
}

/** The mark of the lane that was pressed last and still stands. */
function lastOf(marks: readonly Mark[], lane: LaneNumber): Mark | null {
  return marks.reduce<Mark | null>((last, mark) => {
    const isLater = mark.lane === lane && mark.state !== 'void' && (last === null || mark.pressedAt >= last.pressedAt);
    return isLater ? mark : last;
  }, null);
}

function nameOf({ labels, sheet }: LivePractice, { swimmer, lane }: Pick<Mark, 'swimmer' | 'lane'>): string {
  const label = labels[swimmer] ?? '';
  const place = sheet.lanes.find((each) => each.lane === lane)?.swimmers.indexOf(swimmer) ?? -1;
  return label === '' ? `swimmer ${place + 1}` : label;
}

function targetOf({ sheet }: LivePractice, { swimmer, lane, step }: Mark): Ms | null {
  const rep = sheet.lanes.find((each) => each.lane === lane)?.steps.find(({ id }) => id === step);
  if (rep?.kind !== 'rep') return null;
  return targetsOf(sheet, rep).find((target) => target.swimmer === swimmer)?.ms ?? null;
}

function lastWords(practice: LivePractice, mark: Mark): LaneTime['last'] {
  const words = `${nameOf(practice, mark)} ${timeWords(mark)}`;
  return { id: mark.id, words, difference: differenceWords(mark, targetOf(practice, mark)) };
}
