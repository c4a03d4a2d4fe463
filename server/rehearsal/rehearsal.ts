import { type Instant, instant } from '../../shared-types/brand.ts';
import type { Departure } from '../../shared-types/departures.ts';
import { type Expected, expectedAt } from '../../shared-types/expected.ts';
import { type ResultsAnswer, resultsAnswerSchema } from '../../shared-types/wire/results.ts';
import type { RehearsalClock } from './clock.ts';
import { COACH, type PlannedPress, type PracticeView, type Presser } from './coach.ts';
import { RehearsalDeck } from './deck.ts';
import type { FollowedRun } from './followed-run.ts';
import { askServer, type PairedAt } from './http.ts';
import { putOnWall, type Rehearsed } from './put-on-wall.ts';
import { departureKey, type TimedPlace, Water } from './water.ts';

/** After a refusal the same hand waits so long, ms; one that is refused so often in a row gives up. */
const AFTER_REFUSAL_MS = 5000;
const MOST_REFUSED = 50;
/** [CMD4] [CMD6] No press changes who left longer ago, ms: an undo reaches back a minute, and the press undone further. */
const SETTLED_AFTER_MS = 120_000;
/** What ended longer ago, ms, is of no more interest to anybody who presses. */
const KEPT_MS = 600_000;

export interface RehearsalParts {
  readonly server: PairedAt;
  readonly clock: RehearsalClock;
  readonly newId: () => string;
  readonly seed: number;
  /** Who presses besides the coach. */
  readonly alsoPressing?: readonly Presser[];
}

/** How often what was done. */
export interface Tally {
  /** Control commands that were carried out, and those that were refused. */
  presses: number;
  refused: number;
  /** Touches whose time was taken, and the marks of those that the server says it has stored. */
  marksSent: number;
  marksStored: number;
  /** Times taken of somebody whom a deck no longer expects, so that nobody could have taken them. */
  unexpected: number;
}

/** What became of it. */
export interface RehearsalResult {
  /** False: nothing more was going to happen, but the practice had not been finished. */
  readonly finished: boolean;
  /** Run, sheet and times as the deck saw them last. */
  readonly followed: FollowedRun;
  readonly departures: readonly Departure[];
  /** What the server makes of the times. */
  readonly results: ResultsAnswer;
  /** From when the practice was on the wall to the last thing that happened, ms on the pool's clock. */
  readonly tookMs: number;
  readonly tally: Readonly<Tally>;
}

/** A touch whose time is taken. */
interface Touch extends TimedPlace {
  readonly departure: Departure;
}

const touchKey = ({ departure, distance }: Touch): string => `${departureKey(departure)} ${distance}`;

interface Hand {
  readonly presser: Presser;
  notBefore: number;
  refusedInARow: number;
}

/**
 * A practice rehearsed against a server that may be anywhere: everything goes over the wire. Time goes from one moment
 * at which something is due to the next, by the given clock, which must also be the server's.
 */
export class Rehearsal {
  readonly #server: PairedAt;
  readonly #deck: RehearsalDeck;
  readonly #water: Water;
  readonly #hands: readonly Hand[];
  readonly #timed = new Set<string>();
  readonly #beganAt: Instant;
  readonly #tally: Tally = { presses: 0, refused: 0, marksSent: 0, marksStored: 0, unexpected: 0 };
  #seq = 0;
  /** Everybody who left up to then is in the water, or was. */
  #seenUntil = 0;

  private constructor(server: PairedAt, deck: RehearsalDeck, water: Water, pressers: readonly Presser[]) {
    this.#server = server;
    this.#deck = deck;
    this.#water = water;
    this.#hands = pressers.map((presser) => ({ presser, notBefore: 0, refusedInARow: 0 }));
    this.#beganAt = deck.now();
  }

  /**
   * Puts everything on the wall of a server with an empty one, and takes a deck in hand.
   * @throws RehearsalError when the server refuses it
   */
  static async prepared(parts: RehearsalParts, rehearsed: Rehearsed): Promise<Rehearsal> {
    const { server, clock, newId, seed, alsoPressing = [] } = parts;
    const swimmers = await putOnWall(server, rehearsed, newId);
    const deck = await RehearsalDeck.join({ server, clock, newId });
    return new Rehearsal(server, deck, new Water({ seed, swimmers, pool: rehearsed.pool }), [...alsoPressing, COACH]);
  }

  /**
   * Runs the practice until it is finished and everybody is in, or until nothing more will happen.
   * @throws RehearsalError when the server does not say what the times came to
   */
  async run(): Promise<RehearsalResult> {
    try {
      while (await this.#goOn());
      return await this.#result();
    } finally {
      this.#deck.leave();
    }
  }

  /** Does the next thing that is due, or lets time go by until one is. @returns false when none ever will be */
  async #goOn(): Promise<boolean> {
    await this.#deck.takeIn();
    if (this.#deck.isGone) return false;
    const now = this.#deck.now();
    this.#letLeave(now);
    const touch = this.#nextTouch();
    if (touch && touch.at <= now) {
      await this.#take(touch);
      return true;
    }
    const planned = this.#nextPress(now);
    if (planned && planned.at <= now) {
      await this.#press(planned);
      return true;
    }
    const next = this.#nextMoment(now, [touch?.at, planned?.at]);
    if (next !== null) await this.#deck.towards(next);
    return next !== null;
  }

  #letLeave(now: Instant): void {
    const { run, sheet } = this.#deck.followed;
    const left = this.#deck.followed.leftBy(now);
    if (run.seq !== this.#seq) {
      const known = new Set(left.map((departure) => `${departureKey(departure)} ${departure.at}`));
      this.#water.keep((departure) => known.has(`${departureKey(departure)} ${departure.at}`));
      this.#seq = run.seq;
      this.#seenUntil = Math.min(this.#seenUntil, now - SETTLED_AFTER_MS);
    }
    const since = left.filter(({ at }) => at > this.#seenUntil);
    for (const departure of since) if (!this.#water.has(departure)) this.#water.leave(sheet, departure);
    this.#seenUntil = now;
    this.#water.forgetBefore(instant(now - KEPT_MS));
  }

  /** The touch whose time is taken next. */
  #nextTouch(): Touch | null {
    let next: Touch | null = null;
    for (const { departure, timed } of this.#water.swims) {
      for (const place of timed) {
        if (this.#timed.has(touchKey({ ...place, departure }))) continue;
        if (next === null || place.at < next.at) next = { ...place, departure };
      }
    }
    return next;
  }

  async #take(touch: Touch): Promise<void> {
    this.#timed.add(touchKey(touch));
    if (!this.#isExpected(touch)) this.#tally.unexpected += 1;
    this.#tally.marksSent += 1;
    const { departure, distance, at } = touch;
    const { swimmer, step, pass } = departure;
    const answer = await this.#deck.mark({ swimmer, step, pass, distance }, at);
    if (answer.ok) this.#tally.marksStored += 1;
  }

  /** [CMD5] Whether a deck would offer to take this time. */
  #isExpected({ departure: { swimmer, step, pass, lane }, distance, at }: Touch): boolean {
    const { run, sheet, book } = this.#deck.followed;
    const taken = [...book.entries.values()].flatMap(({ isVoid, pressedAt, place }) =>
      isVoid || pressedAt < at - KEPT_MS ? [] : place,
    );
    const finishedAt = run.state === 'finished' ? (run.changedAt ?? null) : null;
    const departures = this.#deck.followed.leftBy(at).filter((one) => one.lane === lane);
    const expected = expectedAt({ sheet, departures, taken, finishedAt }, lane, at);
    const isOfRep = (one: Expected): boolean => one.swimmer === swimmer && one.step === step && one.pass === pass;
    return expected.some((one) => isOfRep(one) && one.distance === distance);
  }

  #view(now: Instant): PracticeView {
    const { run, sheet } = this.#deck.followed;
    return { sheet, run, now, swims: this.#water.swims, upcoming: this.#deck.followed.leavingAfter(now) };
  }

  /** The press that is due first, of everybody's. */
  #nextPress(now: Instant): (PlannedPress & { readonly hand: Hand }) | null {
    const view = this.#view(now);
    let first: (PlannedPress & { readonly hand: Hand }) | null = null;
    for (const hand of this.#hands) {
      const planned = hand.refusedInARow < MOST_REFUSED ? hand.presser.next(view) : null;
      if (!planned) continue;
      const at = instant(Math.max(planned.at, hand.notBefore));
      if (first === null || at < first.at) first = { press: planned.press, at, hand };
    }
    return first;
  }

  async #press({ press, hand }: PlannedPress & { readonly hand: Hand }): Promise<void> {
    const answer = await this.#deck.press(press);
    hand.presser.pressed?.(answer);
    if (answer.ok) {
      this.#tally.presses += 1;
      hand.refusedInARow = 0;
      return;
    }
    this.#tally.refused += 1;
    hand.refusedInARow += 1;
    hand.notBefore = this.#deck.now() + AFTER_REFUSAL_MS;
  }

  /** The next moment at which something happens: somebody leaves or comes in, or one of `others`. */
  #nextMoment(now: Instant, others: readonly (Instant | undefined)[]): Instant | null {
    let next = Number.POSITIVE_INFINITY;
    const [leaves] = this.#deck.followed.leavingAfter(now);
    for (const at of [leaves?.at, ...others]) if (at !== undefined) next = Math.min(next, at);
    for (const { inAt } of this.#water.swims) if (inAt > now) next = Math.min(next, inAt);
    return Number.isFinite(next) ? instant(next) : null;
  }

  async #result(): Promise<RehearsalResult> {
    const { followed } = this.#deck;
    const now = this.#deck.now();
    const path = `/api/runs/${followed.run.id}/results?role=desk`;
    return {
      finished: followed.run.state === 'finished',
      followed,
      departures: followed.leftBy(now),
      results: await askServer({ server: this.#server, path, schema: resultsAnswerSchema }),
      tookMs: now - this.#beganAt,
      tally: this.#tally,
    };
  }
}
