import { type Instant, instant } from '../../shared-types/brand.ts';
import type { Older } from '../../shared-types/wire/privacy.ts';
import { failure, type KnownFailure } from '../failure.ts';
import type { Note } from '../log.ts';
import type { Store } from '../store/store.ts';
import type { Later } from './history-keeper.ts';
import type { RunKeeper } from './run-keeper.ts';

const DAY_MS = 24 * 60 * 60 * 1000;
/** While a practice is under way it is looked again after so long, ms. */
const AGAIN_MS = 60 * 60 * 1000;

const UNDER_WAY = failure('still-running', 'A practice is under way, so nothing was deleted.', {
  fix: 'Finish it on the deck first.',
});

export const isUnderWay = ({ run }: Pick<RunKeeper, 'run'>): boolean =>
  run?.state === 'running' || run?.state === 'held';

/** So many months before an instant, by the calendar of UTC; of a month that is shorter its last day. */
export function monthsBefore(at: number, months: number): Instant {
  const then = new Date(at);
  const day = then.getUTCDate();
  then.setUTCDate(1);
  then.setUTCMonth(then.getUTCMonth() - months);
  const days = new Date(Date.UTC(then.getUTCFullYear(), then.getUTCMonth() + 1, 0)).getUTCDate();
  then.setUTCDate(Math.min(day, days));
  return instant(then.getTime());
}

export interface RetentionParts {
  readonly store: Store;
  readonly keeper: Pick<RunKeeper, 'run' | 'storedAnew'>;
  /** The pool's clock. */
  readonly now: () => Instant;
  readonly log: (error: unknown) => void;
  readonly note: Note;
}

/** What is older than so many months. */
export const olderThan = ({ store, now }: Pick<RetentionParts, 'store' | 'now'>, months: number): Older =>
  store.retention.older(monthsBefore(now(), months));

/**
 * Deletes that, never what is on the wall, and nothing while a practice is under way.
 * @throws Error of node:sqlite when it cannot be written down: then nothing is deleted
 */
export function deleteOlder(
  { store, keeper, now, log, note }: RetentionParts,
  months: number,
): { readonly ok: true; readonly older: Older } | KnownFailure {
  if (isUnderWay(keeper)) return UNDER_WAY;
  const older = olderThan({ store, now }, months);
  if (store.retention.deleteOlder(older.before)) {
    keeper.storedAnew();
    note({ what: 'deleted', practices: older.practices });
    sweep(store, log);
  }
  return { ok: true, older };
}

/** What has been deleted leaves no byte behind. @returns whether that was done; else it is tried again every day */
export function sweep({ erasure }: Pick<Store, 'erasure'>, log: (error: unknown) => void): boolean {
  try {
    erasure.sweep();
    return true;
  } catch (error) {
    log(error);
    return false;
  }
}

/** Deletes what is older than what is kept, now and every day. */
export class Retention {
  readonly #parts: RetentionParts;
  readonly #later: Later | undefined;
  #callOff: (() => void) | null = null;

  /** @param later absent: only now */
  constructor(parts: RetentionParts, later: Later | undefined) {
    this.#parts = parts;
    this.#later = later;
    this.#look();
  }

  end(): void {
    this.#callOff?.();
  }

  #look(): void {
    const { keeper, log } = this.#parts;
    const mayAct = !isUnderWay(keeper);
    try {
      if (mayAct) this.#act();
    } catch (error) {
      log(error);
    }
    this.#callOff = this.#later?.(mayAct ? DAY_MS : AGAIN_MS, () => this.#look()) ?? null;
  }

  #act(): void {
    const { store, log } = this.#parts;
    const { keepMonths } = store.pool.privacy();
    if (keepMonths !== null) deleteOlder(this.#parts, keepMonths);
    if (store.erasure.isUnswept()) sweep(store, log);
  }
}
