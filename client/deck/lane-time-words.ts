import type { Instant, LaneNumber } from '../../shared-types/brand.ts';
import type { Expected } from '../../shared-types/expected.ts';
import type { Mark } from '../../shared-types/marks.ts';
import { formatSwimTime } from '../../shared-types/time.ts';
import { expectedIn, type Known, meantInstead, nameIn, standingOf, type Thing, targetOn } from './lane-marks.ts';
import type { Done, LaneRepairs } from './lane-repairs.ts';
import { differenceWords, timeWords } from './words.ts';

/** What a lane's row says of times. Pure. */

/** So long after it was taken a time is shown on the lane's pad while the practice goes on, ms. */
const SHOWN_MS = 30_000;
/** So long after something was done to a lane's times it can be put right by one press, ms; later in the lane's table. */
const OFFERED_MS = 60_000;

export interface LaneTime {
  /** Whose time is taken next; null: nobody is on the way. */
  readonly next: {
    readonly name: string;
    /** To hold: `30.0`; empty without one. */
    readonly target: string;
    /** `at 25`, where it is no finish. */
    readonly place: string;
  } | null;
  /** The time taken last. */
  readonly last: {
    readonly name: string;
    readonly time: string;
    /** `+0.4` */
    readonly difference: string;
    /** That others took the same: `also 29.6`. */
    readonly note: string;
  } | null;
  /** What puts it right; null when nothing was done of late. */
  readonly offers: Offers | null;
}

/** Each in words; empty when it is not offered. */
export interface Offers {
  /** `Ines 29.4` */
  readonly undo: string;
  /** `Ines 29.4`, that was taken back. */
  readonly back: string;
  /** `Ines`, and who else it was. */
  readonly not: string;
  readonly but: string;
  /** Who was missed. */
  readonly missed: string;
  /** The other time of the same thing. */
  readonly swap: string;
}

export const NO_TIMES: LaneTime = { next: null, last: null, offers: null };

/** `at 25`, of what is no finish. */
const placeWords = ({ distance, isFinish }: Pick<Expected, 'distance' | 'isFinish'>): string =>
  isFinish ? '' : `at ${distance}`;

const shortTime = ({ ms }: Mark): string => (ms === null ? '' : formatSwimTime(ms, 1));

export function laneTime(known: Known, repairs: LaneRepairs, lane: LaneNumber, at: Instant): LaneTime {
  const { practice, marks } = known;
  const next = expectedIn(known, lane, at)[0];
  const newest = repairs.newest(marks, lane);
  const isShown = newest !== null && (practice.run.state === 'finished' || at - newest.at < SHOWN_MS);
  return {
    next: next
      ? {
          name: nameIn(practice, next.swimmer, lane),
          target: next.targetMs === null ? '' : formatSwimTime(next.targetMs, 1),
          place: placeWords(next),
        }
      : null,
    last: isShown ? lastOf(known, newest, lane) : null,
    offers: offersOf(known, repairs, newest, lane, at),
  };
}

function lastOf({ practice, marks }: Known, newest: Done, lane: LaneNumber): LaneTime['last'] {
  const nameOf = ({ swimmer }: Pick<Thing, 'swimmer'>): string => nameIn(practice, swimmer, lane);
  const mark = 'mark' in newest ? marks.find(({ id }) => id === newest.mark) : undefined;
  if (!mark) return null;
  const all = standingOf(marks, mark);
  const shown = all.find(({ state }) => state === 'counts') ?? mark;
  const others = all.filter((one) => one !== shown && one.state !== 'missed').map(shortTime);
  return {
    name: nameOf(shown),
    time: timeWords(shown),
    difference: differenceWords(shown, targetOn(practice, shown)),
    note: others.length === 0 ? '' : `also ${others.join(', ')}`,
  };
}

/** `Ines 29.4`, of anything done. */
function doneWords({ practice, marks }: Known, done: Done, lane: LaneNumber): string {
  if (done.kind === 'clear') return 'cleared';
  const mark = marks.find(({ id }) => id === done.mark);
  if (mark?.state === 'missed') return `missed ${nameIn(practice, mark.swimmer, lane)}`;
  const words = mark ? `${nameIn(practice, mark.swimmer, lane)} ${shortTime(mark)}`.trim() : '';
  return done.kind === 'swap' ? 'swap' : words;
}

function offersOf(
  known: Known,
  repairs: LaneRepairs,
  newest: Done | null,
  lane: LaneNumber,
  at: Instant,
): Offers | null {
  const { practice, marks } = known;
  const { takenBack } = repairs;
  const lastAt = Math.max(newest?.at ?? 0, takenBack?.at ?? 0);
  if (at - lastAt >= OFFERED_MS) return null;
  const mark = newest && 'mark' in newest ? marks.find(({ id }) => id === newest.mark) : undefined;
  const meant = mark && !mark.typed && mark.state !== 'missed' ? meantInstead(known, lane, mark) : undefined;
  const next = expectedIn(known, lane, at)[0];
  const both = mark ? standingOf(marks, mark) : [];
  const other = both.find(({ state }) => state === 'second');
  return {
    undo: newest && at - newest.at < OFFERED_MS ? doneWords(known, newest, lane) : '',
    back: takenBack ? doneWords(known, { kind: 'take', ...takenBack }, lane) : '',
    not: mark && meant ? nameIn(practice, mark.swimmer, lane) : '',
    but: meant ? nameIn(practice, meant.swimmer, lane) : '',
    missed: next ? nameIn(practice, next.swimmer, lane) : '',
    swap: other ? shortTime(other) : '',
  };
}
