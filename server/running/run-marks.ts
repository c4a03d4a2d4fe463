import type { Instant, SheetHash } from '../../shared-types/brand.ts';
import type { Departure } from '../../shared-types/departures.ts';
import type { RunEvent } from '../../shared-types/events.ts';
import {
  foldMarks,
  type MarkBook,
  type MarkEntry,
  type MarkEvent,
  marksOf,
  NO_MARKS,
} from '../../shared-types/marks.ts';
import type { Sheet } from '../../shared-types/sheet.ts';
import { inForce, type SwumRun } from '../results/run-index.ts';
import type { StoredRun } from '../store/run-store.ts';
import type { Store } from '../store/store.ts';
import { RunDepartures } from './departure-log.ts';

/** One run's marks, and the departures they are placed by. */
export class RunMarks {
  readonly departures: RunDepartures;
  readonly events: MarkEvent[] = [];
  readonly #recalls: RunEvent[] = [];
  readonly #sheetOf: (hash: SheetHash) => Sheet;
  #versions: readonly [...Sheet[], Sheet];
  #book: MarkBook = NO_MARKS;

  /** @param sheetOf any version of the run's sheet */
  constructor({ hash, loadedAt }: Pick<StoredRun, 'hash' | 'loadedAt'>, sheetOf: (hash: SheetHash) => Sheet) {
    this.#sheetOf = sheetOf;
    this.#versions = [sheetOf(hash)];
    this.departures = new RunDepartures(this.sheet, loadedAt);
  }

  /** A run as its events make it. @throws Error when one of its sheets is not stored: the database is damaged */
  static takenUp(store: Store, stored: StoredRun): RunMarks {
    const { id } = stored;
    const run = new RunMarks(stored, (hash) => store.runs.sheetOfRun(id, hash));
    for (const event of store.runs.eventsOf(id)) run.ran(event);
    run.marked(...store.marks.eventsOf(id));
    return run;
  }

  get sheet(): Sheet {
    return inForce(this.#versions);
  }

  get book(): MarkBook {
    return this.#book;
  }

  /** A control event; one that is known already is nothing new. */
  ran(event: RunEvent): void {
    if (event.seq <= this.departures.seq) return;
    if (event.sheet) this.#versions = [...this.#versions, this.#sheetOf(event.sheet)];
    this.departures.happened(event, this.sheet);
    if (event.kind === 'recall') this.#recalls.push(event);
  }

  marked(...events: MarkEvent[]): void {
    this.#book = foldMarks(this.#book, events);
    this.events.push(...events);
  }

  /** What results are worked out from, as far as it is known at an instant. */
  swumBy(now: Instant): SwumRun {
    return { versions: this.#versions, departures: this.departures.upTo(now), marks: marksOf(this.#book) };
  }

  /** What makes the marks void that count from send-offs which a recall took back. */
  recalledMarks(now: Instant): MarkEvent[] {
    const recalled = this.#recalls.flatMap((recall) =>
      (this.departures.takenBack.get(recall.seq) ?? []).flatMap((departure) =>
        [...this.#book.entries.values()]
          .filter((mark) => countsFrom(mark, departure))
          .map(({ id }) => ({ id, recall })),
      ),
    );
    return recalled.map(({ id, recall }, place) => ({
      kind: 'void' as const,
      run: recall.run,
      seq: this.#book.seq + place + 1,
      command: recall.command,
      device: recall.device,
      mark: id,
      decidedAt: now,
      recall: recall.seq,
    }));
  }
}

const countsFrom = ({ place, isVoid }: MarkEntry, { swimmer, step, pass, at }: Departure): boolean =>
  !isVoid && place.leftAt === at && place.swimmer === swimmer && place.step === step && place.pass === pass;
