import type { ClockAnchor } from '../../server/clock.ts';
import type { Instant, RunId } from '../../shared-types/brand.ts';
import type { Departure } from '../../shared-types/departures.ts';
import type { RunEvent } from '../../shared-types/events.ts';
import type { SimulatedServer } from './simulated-server.ts';

/** No press reaches further back than two seconds: what is older than this stays as it is, ms. */
const SETTLED_AFTER_MS = 2500;

/** With the words for it. */
type Seen = readonly [string, Departure];

const wordsOf = ({ swimmer, lane, step, pass, at }: Departure): string =>
  `${swimmer} lane ${lane} ${step} #${pass} ${at}`;

/**
 * [RUN3] Looks again and again at who has left in a run as the server has it, and holds it to what it said: nothing that
 * was settled changes, is gone or comes in later, but for what recalls and undos may do.
 */
export class DepartureWatch {
  readonly #run: RunId;
  #seen: ReadonlyMap<string, Departure> = new Map();
  /** Who has left up to here stays. */
  #settledUntil = Number.NEGATIVE_INFINITY;
  /** Nobody else leaves up to here: the same, unless the pool's clock has been set back since. */
  #closedUntil = Number.NEGATIVE_INFINITY;
  /** What the pool's clock counted from at the last look. */
  #anchor: ClockAnchor | null = null;
  /** Of the last event there was at the last look. */
  #seq = 0;

  constructor(run: RunId) {
    this.#run = run;
  }

  /** @throws Error saying whose send-off has changed */
  look({ keeper, store, clock: { anchor } }: Pick<SimulatedServer, 'keeper' | 'store' | 'clock'>): void {
    const known = keeper.marks.departuresOf(this.#run);
    if (!known) throw new Error('the server does not know the run any more');
    // Before and after a practice the pool's clock may be set back: then a press may be earlier than what was settled.
    const wasSet = this.#anchor !== null && aheadMs(this.#anchor) !== aheadMs(anchor);
    this.#anchor = anchor;
    const settledUntil = Math.max(this.#settledUntil, known.until - SETTLED_AFTER_MS);
    const settled = known.departures.filter(({ at }) => at <= settledUntil);
    const now = new Map(settled.map((departure) => [wordsOf(departure), departure]));
    const gone = [...this.#seen].filter(([words]) => !now.has(words));
    const before = wasSet ? Number.NEGATIVE_INFINITY : this.#closedUntil;
    const late = [...now].filter(([words, { at }]) => at <= before && !this.#seen.has(words));
    if (gone.length + late.length > 0) this.#explain(store, gone, late);
    this.#seen = now;
    this.#settledUntil = settledUntil;
    this.#closedUntil = known.until - SETTLED_AFTER_MS;
    this.#seq = known.seq;
  }

  #explain(store: SimulatedServer['store'], gone: readonly Seen[], late: readonly Seen[]): void {
    const events = store.runs.eventsOf(this.#run);
    const since = events.filter(({ seq }) => seq > this.#seq);
    for (const [words, departure] of gone) {
      if (!this.#mayBeRecalled(store, departure, events, since)) throw new Error(`has not left any more: ${words}`);
    }
    for (const [words, departure] of late) {
      if (!mayBeUndone(departure, events, since)) throw new Error(`had not left before: ${words}`);
    }
  }

  /** A recall takes back who has left since its go in the lanes of that gate. */
  #mayBeRecalled(
    store: SimulatedServer['store'],
    { lane, at }: Departure,
    events: readonly RunEvent[],
    since: readonly RunEvent[],
  ): boolean {
    return since.some(({ kind, takesBack, at: until }) => {
      const go = kind === 'recall' ? events.find(({ seq }) => seq === takesBack) : undefined;
      const hash = events.findLast(({ seq, sheet }) => sheet !== undefined && seq <= (takesBack ?? 0))?.sheet;
      const sheet = store.runs.sheet(hash ?? store.runs.run(this.#run)?.hash ?? never());
      const lanes = sheet?.joins[go?.gate ?? -1]?.lanes ?? [];
      return go !== undefined && lanes.includes(lane) && at >= go.at && at <= until;
    });
  }
}

/** How far the pool's clock is ahead of the machine's monotonic one. */
const aheadMs = ({ wallMs, monotonicMs }: ClockAnchor): number => wallMs - monotonicMs;

const never = (): never => {
  throw new Error('the run is not stored');
};

/** What is undone was never pressed: who would have left without it has left. */
function mayBeUndone({ at }: { at: Instant }, events: readonly RunEvent[], since: readonly RunEvent[]): boolean {
  return since.some(({ kind, takesBack, at: until }) => {
    const undone = kind === 'undo' ? events.find(({ seq }) => seq === takesBack) : undefined;
    return undone !== undefined && at >= undone.at && at <= until;
  });
}
