import { computed, type ReadonlySignal } from '@preact/signals';
import type { CommandId, Instant, LaneNumber, Ms } from '../../shared-types/brand.ts';
import { type Expected, expectedAt } from '../../shared-types/expected.ts';
import type { Mark } from '../../shared-types/marks.ts';
import { targetsOf } from '../../shared-types/sheet.ts';
import type { Link, LivePractice, Marking } from '../common/live.ts';
import { type CountedPress, pressCounts } from './second-press.ts';
import { takenTimes } from './taken-times.ts';
import { differenceWords, timeWords } from './words.ts';

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
  /**
   * Takes the time of the next expected swimmer of a lane.
   * @param at the press's own instant
   * @returns the mark's id; null when the press took no time
   */
  take(lane: LaneNumber, at: Instant): CommandId | null;
  /** Takes back the time taken last in a lane. */
  takeBack(lane: LaneNumber, at: Instant): void;
  /** Takes back a time that was none. */
  withdraw(mark: CommandId): void;
}

/** So soon after another press that took a time back, one on the same lane is a drop of water, ms. */
const SAME_PRESS_MS = 700;

/** What the times need of a page's link. */
export type TimesLink = Pick<Link, 'practice' | 'times'>;

/** @param tell says in words what went wrong */
export function laneTimesOver(link: TimesLink, now: ReadonlySignal<Instant>, tell: (words: string) => void): LaneTimes {
  const taken = computed((): Mark[] => {
    const run = link.practice.value?.run;
    const { book, waiting } = link.times;
    return run ? takenTimes(book.value, waiting.value, run.id, link.times.departuresAt(now.peek())) : [];
  });
  const counted = new Map<LaneNumber, CountedPress>();
  const takenBackAt = new Map<LaneNumber, Instant>();
  const expected = (lane: LaneNumber, at: Instant): Expected | undefined => {
    const practice = link.practice.value;
    return practice ? expectedOf(link, practice, taken.value, lane, at)[0] : undefined;
  };
  const send = (marking: Marking): CommandId | null => {
    const id = link.times.mark(marking);
    if (id === null) tell('This time could not be kept: too many wait for the server.');
    return id;
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
      if (!next || !pressCounts(counted.get(lane), next, at)) return null;
      counted.set(lane, { at, of: next });
      const { swimmer, step, pass, distance } = next;
      return send({ kind: 'mark', swimmer, step, pass, distance, pressedAt: at });
    },
    takeBack: (lane, at) => {
      const last = lastOf(taken.value, lane);
      if (!last || Math.abs(at - (takenBackAt.get(lane) ?? Number.NEGATIVE_INFINITY)) < SAME_PRESS_MS) return;
      takenBackAt.set(lane, at);
      send({ kind: 'void', mark: last.id });
    },
    withdraw: (mark) => void send({ kind: 'void', mark }),
  };
}

function expectedOf(
  link: TimesLink,
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
