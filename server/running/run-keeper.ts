import { type Instant, instant, type SheetHash } from '../../shared-types/brand.ts';
import { type Answer, type Command, commandSchema, type Refusal } from '../../shared-types/commands.ts';
import type { Run, RunEvent } from '../../shared-types/events.ts';
import { foldEvent, foldEvents, newRun } from '../../shared-types/fold.ts';
import type { Sheet } from '../../shared-types/sheet.ts';
import type { Squad } from '../../shared-types/squad.ts';
import type { LiveRun } from '../../shared-types/wire/from-server.ts';
import type { Role } from '../../shared-types/wire/protocol.ts';
import { failure, type KnownFailure } from '../failure.ts';
import type { RunSettings } from '../store/pool-store.ts';
import type { StoredRun } from '../store/run-store.ts';
import type { Store } from '../store/store.ts';
import { decide } from './decide.ts';
import { RUN_IS_FULL } from './full-run.ts';
import { HistoryKeeper, type Later } from './history-keeper.ts';
import { wallLabels } from './labels.ts';
import { type Loading, withNewcomers } from './loading.ts';
import { MarkKeeper } from './mark-keeper.ts';
import { canonicalJson, sheetHash } from './sheet-hash.ts';

/** What screens are told: an event of the run on the wall, or that another run (or none) is there. */
export type News = { readonly kind: 'event'; readonly event: RunEvent } | { readonly kind: 'run' };

export interface RunKeeperParts {
  readonly store: Store;
  readonly now: () => Instant;
  readonly newId: () => string;
  readonly log: (error: unknown) => void;
  /** Absent: what sets came to is worked out only when somebody asks. */
  readonly later?: Later | undefined;
}

interface Live {
  stored: StoredRun;
  /** The version of the sheet that the lanes swim by. */
  sheet: Sheet;
  run: Run;
  readonly events: RunEvent[];
}

const NO_RUN: Refusal = {
  ok: false,
  code: 'no-run',
  message: 'The practice this was pressed for is no longer on the wall.',
};

const NOT_STORED: Refusal = {
  ok: false,
  code: 'not-stored',
  message: 'The server could not write this down, so it did not happen.',
  fix: 'See whether the disk of the server is full.',
};

/**
 * Keeps the one run that is on the wall: decides its commands, stores and folds its events and tells who listens.
 * Each is done in one synchronous step, so no two commands are ever decided on the same state.
 */
export class RunKeeper {
  readonly #parts: RunKeeperParts;
  readonly #listeners = new Set<(news: News) => void>();
  /** The times taken of this run and of those before. */
  readonly marks: MarkKeeper;
  /** What the sets of all runs came to. */
  readonly history: HistoryKeeper;
  #live: Live | null;
  #storing = true;

  /** Takes up the run that was on the wall, by folding its events. */
  constructor(parts: RunKeeperParts) {
    this.#parts = parts;
    this.#live = takeUp(parts.store);
    this.marks = new MarkKeeper(parts);
    this.history = new HistoryKeeper({ ...parts, marks: this.marks, isUnderWay: () => this.#isUnderWay() });
    this.listen((news) => (news.kind === 'event' ? this.marks.ran(news.event) : this.marks.changed()));
    this.listen(() => this.history.soon());
  }

  get run(): Run | null {
    return this.#live?.run ?? null;
  }

  /** [FLT7] False after a command or a time could not be stored, until one can be. */
  get storing(): boolean {
    return this.#storing && this.marks.storing;
  }

  listen(listener: (news: News) => void): void {
    this.#listeners.add(listener);
  }

  /** The run as a screen of this role may see it: names in full on the desk, on walls as the coach has chosen. */
  liveFor(role: Role): LiveRun {
    if (!this.#live) return { run: null, labels: {} };
    const { run, stored } = this.#live;
    return { run, labels: this.#labelsFor(role, stored), ...titleOf(stored) };
  }

  /** Walls are to show other names. */
  namesChanged(): void {
    if (this.#live) this.#tell({ kind: 'run' });
  }

  /** Something stored of runs has gone: what is at hand of it is read anew. */
  storedAnew(): void {
    this.#live = takeUp(this.#parts.store);
    this.#tell({ kind: 'run' });
  }

  /** [RUN5] Those the run was put on the wall with; the pool's when nothing is there. */
  settings(): RunSettings {
    return this.#live?.stored.pinned.settings ?? this.#parts.store.pool.runSettings();
  }

  /** [CMD1] Decides a command, once: sent again it gets the answer it had. */
  command(command: Command): Answer {
    const known = this.#parts.store.runs.answerTo(command.id);
    if (known) return known;
    // What is of no run is not kept: nothing would ever clear it away.
    if (!this.#parts.store.runs.has(command.run)) return NO_RUN;
    if (this.#parts.store.runs.isFull(command.run)) return RUN_IS_FULL;
    const decided = this.#decide(command);
    const answer: Answer = decided.ok ? { ok: true, seq: decided.event.seq } : decided;
    try {
      this.#parts.store.runs.append(command, answer, decided.ok ? decided.event : null, revisedText(decided));
      this.#storing = true;
    } catch (error) {
      this.#parts.log(error);
      this.#storing = false;
      return NOT_STORED;
    }
    if (decided.ok) this.#happened(decided.event, decided.revised);
    return answer;
  }

  /**
   * Puts a planned practice on the wall; one that is running there only makes room when `replace` says so.
   * @param rehearsed only tried out, nobody swims
   */
  load(loading: Loading, replace: boolean, rehearsed = false): { ok: true } | KnownFailure {
    const { store, now, newId } = this.#parts;
    const before = this.#live?.run;
    if (this.#isUnderWay() && !replace) {
      return failure('still-running', 'Another practice is running on the wall.', {
        fix: 'Finish it on the deck, or say that this one is to take its place.',
      });
    }
    const loadedAt = instant(Math.round(now()));
    const demo = store.squad.isDemo();
    const stored = loading.runFrom({ id: newId(), loadedAt, settings: store.pool.runSettings(), rehearsed, demo });
    store.inTransaction(() => {
      if (before && this.#isUnderWay()) this.#finish(before);
      store.runs.putOnWall(stored, loading.sheetText);
    });
    const run = newRun(stored.id, stored.hash, loading.sheet, stored.loadedAt);
    this.#live = { stored, sheet: loading.sheet, run, events: [] };
    this.#tell({ kind: 'run' });
    return { ok: true };
  }

  /** [CMD7] Who has come to the squad since can join the run on the wall. */
  squadChanged(squad: Squad): void {
    const stored = this.#live && withNewcomers(this.#live.stored, squad);
    if (!this.#live || !stored) return;
    this.#parts.store.runs.pin(stored);
    this.#live.stored = stored;
    this.#tell({ kind: 'run' });
  }

  /** Takes a practice off the wall that is finished or has not begun. */
  takeOff(): { ok: true } | KnownFailure {
    if (this.#isUnderWay()) {
      return failure('still-running', 'The practice on the wall is still running.', {
        fix: 'Finish it on the deck first.',
      });
    }
    if (!this.#live) return { ok: true };
    this.#parts.store.runs.takeOffWall();
    this.#live = null;
    this.#tell({ kind: 'run' });
    return { ok: true };
  }

  #labelsFor(role: Role, { pinned: { shortLabels: short, fullLabels: full } }: StoredRun): LiveRun['labels'] {
    if (role === 'wall') return wallLabels(this.#parts.store.pool.privacy().names, { short, full });
    return role === 'desk' ? full : short;
  }

  #isUnderWay(): boolean {
    const state = this.#live?.run.state;
    return state === 'running' || state === 'held';
  }

  #decide(command: Command): Decided {
    const live = this.#live;
    if (live?.run.id !== command.run) return NO_RUN;
    const decision = decide(live.sheet, live.run, command, {
      now: instant(Math.round(this.#parts.now())),
      events: live.events,
      settings: live.stored.pinned.settings,
      plan: live.stored.pinned.plan ?? null,
      sheetAfter: (seq) => sheetAfter(this.#parts.store, live, seq),
    });
    if (!decision.ok) return decision;
    const { event, revised } = decision;
    if (!revised) return { ok: true, event };
    const text = canonicalJson(revised);
    return { ok: true, event: { ...event, sheet: sheetHash(text) }, revised: { sheet: revised, text } };
  }

  /** Ends the run that makes room for another, as a `finish` of the server's own. */
  #finish(run: Run): void {
    const { store, now, newId } = this.#parts;
    const command = commandSchema.parse({
      kind: 'finish',
      id: newId(),
      device: newId(),
      run: run.id,
      pressedAt: Math.round(now()),
      basedOnSeq: run.seq,
    });
    const decided = this.#decide(command);
    if (decided.ok) store.runs.append(command, { ok: true, seq: decided.event.seq }, decided.event);
  }

  #happened(event: RunEvent, revised?: Version): void {
    if (!this.#live) return;
    this.#live.run = foldEvent(this.#live.run, event);
    if (event.sheet) this.#live.sheet = revised?.sheet ?? this.#parts.store.runs.sheetOfRun(event.run, event.sheet);
    this.#live.events.push(event);
    this.#tell({ kind: 'event', event });
  }

  #tell(news: News): void {
    for (const listener of this.#listeners) listener(news);
  }
}

const titleOf = ({ pinned: { title } }: StoredRun): Pick<LiveRun, 'title'> => (title === undefined ? {} : { title });

/** The run on the wall as its events make it. @throws Error when its sheet is not stored: the database is damaged */
function takeUp(store: Store): Live | null {
  const stored = store.runs.liveRun();
  if (!stored) return null;
  const { id, hash, loadedAt } = stored;
  const events = store.runs.eventsOf(id);
  const run = foldEvents(newRun(id, hash, store.runs.sheetOfRun(id, hash), loadedAt), events);
  return { stored, sheet: store.runs.sheetOfRun(id, run.sheet), run, events };
}

/** The version of the sheet in force after event `seq`. */
function sheetAfter(store: Store, { stored, events }: Live, seq: number): { hash: SheetHash; sheet: Sheet } {
  const hash = events.findLast((event) => event.seq <= seq && event.sheet !== undefined)?.sheet ?? stored.hash;
  return { hash, sheet: store.runs.sheetOfRun(stored.id, hash) };
}

/** [CMD7] A version of a sheet, and its canonical JSON. */
interface Version {
  readonly sheet: Sheet;
  readonly text: string;
}

type Decided = { readonly ok: true; readonly event: RunEvent; readonly revised?: Version } | Refusal;

const revisedText = (decided: Decided): string | undefined => (decided.ok ? decided.revised?.text : undefined);
