import { setImmediate as nextTurn } from 'node:timers/promises';
import type { Instant, RunId } from '../../shared-types/brand.ts';
import { DEFAULT_TOLERANCE_MS_PER_50 } from '../../shared-types/pool.ts';
import { type KeptSet, keptSetsOf, WORKING_OUT } from '../results/kept-set.ts';
import { inForce } from '../results/run-index.ts';
import { setResultsOf } from '../results/set-results.ts';
import type { HowKept, KeptFrom } from '../store/kept-set-store.ts';
import type { Store } from '../store/store.ts';
import type { MarkKeeper } from './mark-keeper.ts';

/** Has something done after so many milliseconds. @returns what calls it off */
export type Later = (afterMs: number, work: () => void) => () => void;

export interface HistoryKeeperParts {
  readonly store: Store;
  readonly marks: MarkKeeper;
  /** Whether the practice on the wall is under way. */
  readonly isUnderWay: () => boolean;
  readonly log: (error: unknown) => void;
  /** Absent: nothing is worked out before somebody asks. */
  readonly later?: Later | undefined;
}

/** So long after a practice or a late time, ms: late times come one after the other. */
const SOON_MS = 5000;

/**
 * Keeps what the sets of all runs came to, so that years of them can be asked at once. It is worked out from what is
 * stored, as results are, so nothing is lost with it; whatever is not of the newest events is worked out anew.
 */
export class HistoryKeeper {
  readonly #parts: HistoryKeeperParts;
  /** Runs that could not be worked out, and what was known of them then: not tried again before there is more. */
  readonly #unreadable = new Map<RunId, string>();
  readonly #inHand = new Set<Promise<void>>();
  #callOff: (() => void) | null = null;
  #isEnding = false;

  constructor(parts: HistoryKeeperParts) {
    this.#parts = parts;
    parts.marks.listen(() => this.soon());
    this.soon();
  }

  /** Something may have to be worked out, but nobody has asked for it: done when no practice is under way. */
  soon(): void {
    const { later, log, isUnderWay } = this.#parts;
    if (!later || this.#isEnding) return;
    this.#callOff?.();
    this.#callOff = later(SOON_MS, () => {
      this.#callOff = null;
      if (!isUnderWay()) this.upToDate(null).catch(log);
    });
  }

  /**
   * Works out what is not there yet, run by run: between two others get their turn.
   * @param before of runs put on the wall before that instant; null: of all
   */
  async upToDate(before: Instant | null): Promise<void> {
    const work = this.#catchUp(before);
    this.#inHand.add(work);
    try {
      await work;
    } finally {
      this.#inHand.delete(work);
    }
  }

  /** Leaves off after the run in hand; who waits for an answer gets what is there. */
  async end(): Promise<void> {
    this.#isEnding = true;
    this.#callOff?.();
    await Promise.allSettled(this.#inHand);
    await nextTurn();
  }

  /** With the tolerance of today for all of them, so that they can be compared. */
  #how(): HowKept {
    const { toleranceMsPer50 = DEFAULT_TOLERANCE_MS_PER_50 } = this.#parts.store.pool.pool();
    return { toleranceMsPer50, workingOut: WORKING_OUT };
  }

  async #catchUp(before: Instant | null): Promise<void> {
    const { keptSets } = this.#parts.store;
    const how = this.#how();
    for (const { run } of keptSets.stale(how, before)) {
      if (this.#isEnding) return;
      // Others who ask may have had it worked out meanwhile.
      const from = keptSets.staleRun(run, how);
      if (!from || this.#unreadable.get(run) === numbersOf(from)) continue;
      if (!this.#keep(from, how)) return;
      await nextTurn();
    }
  }

  /** @returns false when it cannot be written down now, as then nothing else can */
  #keep(from: KeptFrom, how: HowKept): boolean {
    const { store, log } = this.#parts;
    const sets = this.#workedOut(from, how);
    if (!sets) return true;
    try {
      store.keptSets.keep(from, how, sets);
      return true;
    } catch (error) {
      log(error);
      return false;
    }
  }

  /** Whoever was deleted for good still stands on sheets. */
  #known(sets: readonly KeptSet[]): KeptSet[] {
    const { erasure } = this.#parts.store;
    return sets.filter(({ swimmer }) => !erasure.isDeleted(swimmer));
  }

  /** Null when what the run was swum by cannot be read, or is no longer there: what is kept of it stays. */
  #workedOut(from: KeptFrom, how: HowKept): KeptSet[] | null {
    try {
      const swum = this.#parts.marks.swumRunAside(from.run);
      return swum && this.#known(keptSetsOf(setResultsOf(swum, how), inForce(swum.versions).course));
    } catch (error) {
      this.#parts.log(error);
      this.#unreadable.set(from.run, numbersOf(from));
      return null;
    }
  }
}

const numbersOf = ({ seq, markSeq }: KeptFrom): string => `${seq} ${markSeq}`;
