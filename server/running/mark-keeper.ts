import { type Instant, instant, type RunId } from '../../shared-types/brand.ts';
import type { Answer, Refusal } from '../../shared-types/commands.ts';
import type { Departure } from '../../shared-types/departures.ts';
import type { RunEvent } from '../../shared-types/events.ts';
import { MARK_WITHIN_MS, type MarkCommand, type MarkEvent } from '../../shared-types/marks.ts';
import type { SwumRun } from '../results/run-index.ts';
import type { Store } from '../store/store.ts';
import { decideMark } from './decide-mark.ts';
import { RUN_IS_FULL } from './full-run.ts';
import { RunMarks } from './run-marks.ts';

export interface MarkKeeperParts {
  readonly store: Store;
  readonly now: () => Instant;
  readonly log: (error: unknown) => void;
}

/** Runs whose marks are kept at hand: the one on the wall, and those that late marks still come for. */
const MOST_RUNS = 4;

const NO_SUCH_RUN: Refusal = {
  ok: false,
  code: 'no-run',
  message: 'This time was taken for a practice that the server has never had.',
};

const TOO_LATE: Refusal = {
  ok: false,
  code: 'stale',
  message: 'This time was taken more than 12 hours ago, so it was not stored.',
};

const DELETED: Refusal = {
  ok: false,
  code: 'stale',
  message: 'This time is of a swimmer who was deleted for good, so it was not stored.',
};

const NOT_STORED: Refusal = {
  ok: false,
  code: 'not-stored',
  message: 'The server could not write this time down; it is sent again.',
  fix: 'See whether the disk of the server is full.',
};

/** [CMD5] Keeps the times taken of runs, on the wall or no longer: stores what comes once, and tells who listens. */
export class MarkKeeper {
  readonly #parts: MarkKeeperParts;
  readonly #runs = new Map<RunId, RunMarks>();
  readonly #listeners = new Set<(event: MarkEvent) => void>();
  #storing = true;

  constructor(parts: MarkKeeperParts) {
    this.#parts = parts;
  }

  /** False after a time could not be stored, until one can be. */
  get storing(): boolean {
    return this.#storing;
  }

  listen(listener: (event: MarkEvent) => void): void {
    this.#listeners.add(listener);
  }

  /** [CMD1] Stores a mark or a repair, once: sent again it gets the answer it had. */
  mark(command: MarkCommand): Answer {
    const { store, log } = this.#parts;
    const known = store.runs.answerTo(command.id);
    if (known) return known;
    const run = this.#run(command.run);
    if (!run) return NO_SUCH_RUN;
    if (store.runs.isFull(command.run)) return RUN_IS_FULL;
    const decided = this.#decide(run, command);
    const event = 'event' in decided ? decided.event : null;
    const answer: Answer = 'event' in decided ? { ok: true, seq: event?.seq ?? run.book.seq } : decided;
    try {
      store.marks.append(command, answer, event);
      store.runs.countCommand(command.run);
      this.#storing = true;
    } catch (error) {
      log(error);
      this.#storing = false;
      return NOT_STORED;
    }
    if (event) this.#happened(run, event);
    return answer;
  }

  /** A control event of the run on the wall, already stored. */
  ran(event: RunEvent): void {
    if (event.kind === 'recall') this.#recalled(event);
    else this.#runs.get(event.run)?.ran(event);
  }

  /** Another run is on the wall, or none: the one before may have been ended for it. */
  changed(): void {
    this.#runs.clear();
  }

  /** The last mark event of a run; 0 before the first. */
  seqOf(run: RunId): number {
    return this.#runs.get(run)?.book.seq ?? this.#parts.store.marks.lastSeqOf(run);
  }

  /** The mark events of a run after `seq`, or null when there is no such run. */
  eventsAfter(run: RunId, seq: number): readonly MarkEvent[] | null {
    return this.#run(run)?.events.slice(seq) ?? null;
  }

  /** Everybody who left so far, and the control event up to which that is known; null when there is no such run. */
  departuresOf(run: RunId): { seq: number; until: Instant; departures: readonly Departure[] } | null {
    const known = this.#run(run);
    if (!known) return null;
    const until = this.#now();
    return { seq: known.departures.seq, until, departures: known.departures.upTo(until) };
  }

  /** What results are worked out from, of any run there has been; null when there is no such run. */
  swumRun(run: RunId): SwumRun | null {
    return this.#run(run)?.swumBy(this.#now()) ?? null;
  }

  /** The same without having it at hand afterwards: however many are looked through, those that were at hand stay. */
  swumRunAside(run: RunId): SwumRun | null {
    const known = this.#runs.get(run) ?? this.#takenUp(run);
    return known?.swumBy(this.#now()) ?? null;
  }

  #now(): Instant {
    return instant(Math.floor(this.#parts.now()));
  }

  #decide(run: RunMarks, command: MarkCommand): ReturnType<typeof decideMark> {
    const now = this.#now();
    if ('pressedAt' in command && now - command.pressedAt > MARK_WITHIN_MS) return TOO_LATE;
    if ('swimmer' in command && this.#parts.store.erasure.isDeleted(command.swimmer)) return DELETED;
    return decideMark(run, command, now);
  }

  #happened(run: RunMarks, event: MarkEvent): void {
    run.marked(event);
    for (const listener of this.#listeners) listener(event);
  }

  #recalled(event: RunEvent): void {
    const run = this.#run(event.run);
    run?.ran(event);
    if (run) this.#voidRecalled(run);
  }

  /** The marks of send-offs that a recall took back count no longer. */
  #voidRecalled(run: RunMarks): void {
    const events = run.recalledMarks(this.#now());
    if (events.length === 0) return;
    try {
      this.#parts.store.marks.appendOwn(events);
    } catch (error) {
      // They are found again when the run is next taken up, or with the next recall.
      this.#parts.log(error);
      return;
    }
    for (const event of events) this.#happened(run, event);
  }

  #run(id: RunId): RunMarks | null {
    const known = this.#runs.get(id);
    if (known) return this.#keep(id, known);
    const run = this.#takenUp(id);
    return run && this.#keep(id, run);
  }

  #takenUp(id: RunId): RunMarks | null {
    const { store } = this.#parts;
    const stored = store.runs.run(id);
    const run = stored && RunMarks.takenUp(store, stored);
    if (run) this.#voidRecalled(run);
    return run;
  }

  /** The ones asked for last stay: looking through old practices must not turn out the one on the wall. */
  #keep(id: RunId, run: RunMarks): RunMarks {
    this.#runs.delete(id);
    const [oldest] = this.#runs.keys();
    if (this.#runs.size >= MOST_RUNS && oldest) this.#runs.delete(oldest);
    this.#runs.set(id, run);
    return run;
  }
}
