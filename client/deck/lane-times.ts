import { computed, type ReadonlySignal, signal } from '@preact/signals';
import type { CommandId, Instant, LaneNumber, Ms } from '../../shared-types/brand.ts';
import { instant } from '../../shared-types/brand.ts';
import type { Mark } from '../../shared-types/marks.ts';
import type { Link, Marking } from '../common/live.ts';
import { byLane, expectedIn, type Known, meantInstead, standingOf, type Thing, thingOf } from './lane-marks.ts';
import { type Done, LaneRepairs, undoing } from './lane-repairs.ts';
import { type LaneTime, laneTime, NO_TIMES } from './lane-time-words.ts';
import { type CountedPress, pressCounts } from './second-press.ts';
import { takenTimes } from './taken-times.ts';
import type { TakingChoices } from './taking-choices.ts';

/** [CMD5] Taking times, and putting right what was taken. Every repair can be undone. */
export interface LaneTimes {
  /** The lane whose times something was done to last on this page. */
  readonly repairing: ReadonlySignal<LaneNumber | null>;
  /** What a lane's row says of times. */
  lane(lane: LaneNumber): LaneTime;
  /** Everything that a lane's times are worked out from; null when nothing is on the wall. */
  known(at: Instant): Known | null;
  /** The same at the last tick, worked out once for all who ask. */
  readonly knownNow: ReadonlySignal<Known | null>;
  /**
   * Takes the time of the next expected swimmer of a lane.
   * @param at the press's own instant
   * @returns the mark's id; null when the press took no time
   */
  take(lane: LaneNumber, at: Instant): CommandId | null;
  /** Takes back what was done last to a lane's times. */
  undo(lane: LaneNumber, at: Instant): void;
  /** A time that undo took back counts again. */
  bringBack(lane: LaneNumber, at: Instant): void;
  /** The time taken last was the next swimmer's; who it was taken for is still to come. */
  giveToNext(lane: LaneNumber, at: Instant): void;
  /** The next swimmer came unseen and gets no time: the next press is for the one after. */
  miss(lane: LaneNumber, at: Instant): void;
  /** Of two times taken of the same thing the other one counts. */
  swap(lane: LaneNumber, at: Instant): void;
  /** A time that was called out, in the place of what was taken of the same thing; null: there is none. */
  type(lane: LaneNumber, thing: Thing & { readonly leftAt: Instant }, lasted: Ms | null): void;
  /** Takes back a time that was none. */
  withdraw(mark: CommandId): void;
}

/** What the times need of a page's link. */
export type TimesLink = Pick<Link, 'practice' | 'times'>;

export interface TimesOver {
  readonly link: TimesLink;
  readonly now: ReadonlySignal<Instant>;
  readonly choices: TakingChoices;
  /** Says in words what went wrong. */
  tell(words: string): void;
}

export const laneTimesOver = (over: TimesOver): LaneTimes => new DeckTimes(over);

class DeckTimes implements LaneTimes {
  readonly #over: TimesOver;
  readonly #marks: ReadonlySignal<Mark[]>;
  readonly knownNow: ReadonlySignal<Known | null>;
  readonly repairing = signal<LaneNumber | null>(null);
  readonly #counted = new Map<LaneNumber, CountedPress>();
  readonly #repairs = new Map<LaneNumber, LaneRepairs>();
  /** Goes up with everything done here, so that what is shown follows at once. */
  readonly #done = signal(0);

  constructor(over: TimesOver) {
    this.#over = over;
    const { link, now } = over;
    this.#marks = computed(() => {
      const run = link.practice.value?.run;
      const { book, waiting } = link.times;
      return run ? takenTimes(book.value, waiting.value, run.id, link.times.departuresAt(now.peek())) : [];
    });
    this.knownNow = computed(() => (this.#done.value >= 0 ? this.known(now.value) : null));
  }

  lane(lane: LaneNumber): LaneTime {
    const known = this.knownNow.value;
    return known ? laneTime(known, this.#repairsOf(lane), lane, this.#over.now.value) : NO_TIMES;
  }

  known(at: Instant): Known | null {
    const { link, choices } = this.#over;
    const practice = link.practice.value;
    if (!practice) return null;
    const { run, sheet } = practice;
    return {
      practice,
      marks: this.#marks.value,
      left: byLane(link.times.departuresAt(at)),
      taking: (rep) => choices.of(run.id, sheet, rep),
    };
  }

  take(lane: LaneNumber, at: Instant): CommandId | null {
    const next = this.#expected(lane, at);
    if (!next || !pressCounts(this.#counted.get(lane), next, at)) return null;
    const mark = this.#send({ kind: 'mark', ...thingOf(next), pressedAt: at });
    if (!mark) return null;
    this.#counted.set(lane, { mark, at, of: next });
    this.#did(lane, { kind: 'take', mark, at });
    return mark;
  }

  undo(lane: LaneNumber, at: Instant): void {
    const repairs = this.#repairsOf(lane);
    const newest = repairs.newest(this.#marks.value, lane);
    if (!newest || !repairs.isPress('undo', at)) return;
    for (const marking of undoing(newest)) this.#send(marking);
    repairs.undid(newest, at);
    this.#done.value += 1;
  }

  bringBack(lane: LaneNumber, at: Instant): void {
    const repairs = this.#repairsOf(lane);
    const mark = repairs.takenBack?.mark;
    if (!mark || !repairs.isPress('back', at)) return;
    this.#send({ kind: 'restore', mark });
    this.#did(lane, { kind: 'take', mark, at });
  }

  giveToNext(lane: LaneNumber, at: Instant): void {
    const mark = this.#newestMark(lane);
    const known = this.known(at);
    const meant = mark && mark.state !== 'missed' && known ? meantInstead(known, lane, mark) : undefined;
    if (!mark || !meant || !this.#repairsOf(lane).isPress('not', at)) return;
    this.#send({ kind: 'assign', mark: mark.id, ...thingOf(meant) });
    this.#did(lane, { kind: 'assign', mark: mark.id, at });
  }

  miss(lane: LaneNumber, at: Instant): void {
    const next = this.#expected(lane, at);
    if (!next || !this.#repairsOf(lane).isPress('missed', at)) return;
    const mark = this.#send({ kind: 'miss', ...thingOf(next), pressedAt: at });
    if (mark) this.#did(lane, { kind: 'miss', mark, at });
  }

  swap(lane: LaneNumber, at: Instant): void {
    const mark = this.#newestMark(lane);
    const both = mark ? standingOf(this.#marks.value, mark) : [];
    const counting = both.find(({ state }) => state === 'counts');
    if (!counting || both.length < 2 || !this.#repairsOf(lane).isPress('swap', at)) return;
    // Of two marks of the same thing the one that was there first counts: it is put in again behind the other.
    this.#send({ kind: 'void', mark: counting.id });
    this.#send({ kind: 'assign', mark: counting.id, ...thingOf(counting) });
    this.#did(lane, { kind: 'swap', mark: counting.id, at });
  }

  type(lane: LaneNumber, thing: Thing & { readonly leftAt: Instant }, lasted: Ms | null): void {
    const instead = standingOf(this.#marks.value, thing).map(({ id }) => id);
    for (const mark of instead) this.#send({ kind: 'void', mark });
    const at = this.#over.now.peek();
    if (lasted === null) {
      this.#did(lane, { kind: 'clear', instead, at });
      return;
    }
    const pressedAt = instant(thing.leftAt + lasted);
    const mark = this.#send({ kind: 'mark', ...thingOf(thing), pressedAt, typed: true });
    if (mark) this.#did(lane, { kind: 'type', mark, instead, at });
  }

  withdraw(mark: CommandId): void {
    this.#send({ kind: 'void', mark });
    for (const [lane, counted] of this.#counted) if (counted.mark === mark) this.#counted.delete(lane);
  }

  #expected(lane: LaneNumber, at: Instant) {
    const known = this.known(at);
    return known ? expectedIn(known, lane, at)[0] : undefined;
  }

  /** The mark that what was done last in a lane was done to. */
  #newestMark(lane: LaneNumber): Mark | undefined {
    const newest = this.#repairsOf(lane).newest(this.#marks.value, lane);
    return newest && 'mark' in newest ? this.#marks.value.find(({ id }) => id === newest.mark) : undefined;
  }

  #repairsOf(lane: LaneNumber): LaneRepairs {
    const repairs = this.#repairs.get(lane) ?? new LaneRepairs();
    this.#repairs.set(lane, repairs);
    return repairs;
  }

  #did(lane: LaneNumber, done: Done): void {
    this.#repairsOf(lane).did(done);
    this.#done.value += 1;
    this.repairing.value = lane;
  }

  #send(marking: Marking): CommandId | null {
    const id = this.#over.link.times.mark(marking);
    if (id === null) this.#over.tell('This time could not be kept: too many wait for the server.');
    return id;
  }
}
