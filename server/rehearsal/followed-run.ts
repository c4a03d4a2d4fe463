import { type Instant, instant, type SheetHash } from '../../shared-types/brand.ts';
import { type Departure, DepartureLog, needsHistory } from '../../shared-types/departures.ts';
import type { Run, RunEvent } from '../../shared-types/events.ts';
import { foldEvent } from '../../shared-types/fold.ts';
import { foldMarks, type MarkBook, type MarkEvent, NO_MARKS } from '../../shared-types/marks.ts';
import { type Sheet, sheetSchema } from '../../shared-types/sheet.ts';
import { departuresAnswerSchema, marksAnswerSchema } from '../../shared-types/wire/marks.ts';
import { askServer, type PairedAt } from './http.ts';

/** Longer than any practice, ms: up to the next gate everybody who is still to leave does so within this. */
const AHEAD_MS = 24 * 60 * 60 * 1000;

const sheetOf = (server: PairedAt, hash: SheetHash): Promise<Sheet> =>
  askServer({ server, path: `/api/sheets/${hash}?role=deck`, schema: sheetSchema });

/** A run as a deck follows it by the events it hears: its state, its sheet, its times, and who leaves when. */
export class FollowedRun {
  readonly #server: PairedAt;
  #run: Run;
  #sheet: Sheet;
  #book: MarkBook = NO_MARKS;
  #log: DepartureLog;
  #upcoming: readonly Departure[] = [];

  private constructor(server: PairedAt, run: Run, sheet: Sheet) {
    this.#server = server;
    this.#run = run;
    this.#sheet = sheet;
    this.#log = new DepartureLog([], instant(0));
  }

  /** Takes up a run that is on the wall. */
  static async takenUp(server: PairedAt, run: Run): Promise<FollowedRun> {
    const followed = new FollowedRun(server, run, await sheetOf(server, run.sheet));
    await Promise.all([followed.#askDepartures(), followed.#askMarks()]);
    return followed;
  }

  get run(): Run {
    return this.#run;
  }

  get sheet(): Sheet {
    return this.#sheet;
  }

  get book(): MarkBook {
    return this.#book;
  }

  /** Everybody who left up to `t`. */
  leftBy(t: Instant): readonly Departure[] {
    return [...this.#log.all, ...this.#upcoming.filter(({ at }) => at <= t)];
  }

  /** Who leaves after `t`, as the lanes move now and up to the next gates, in that order. */
  leavingAfter(t: Instant): readonly Departure[] {
    return this.#upcoming.filter(({ at }) => at > t);
  }

  async happened(event: RunEvent): Promise<void> {
    if (event.seq <= this.#run.seq) return;
    const before = this.#run;
    this.#log.pass(this.#sheet, before.motions, event.at);
    this.#run = foldEvent(before, event);
    if (this.#run.sheet !== before.sheet) this.#sheet = await sheetOf(this.#server, this.#run.sheet);
    if (needsHistory(event.kind)) await this.#askDepartures();
    else this.#lookAhead();
  }

  marked(event: MarkEvent): void {
    this.#book = foldMarks(this.#book, [event]);
  }

  async #askMarks(): Promise<void> {
    let last = Number.POSITIVE_INFINITY;
    while (this.#book.seq < last) {
      const path = `/api/runs/${this.#run.id}/marks?after=${this.#book.seq}`;
      const answer = await askServer({ server: this.#server, path, schema: marksAnswerSchema });
      this.#book = foldMarks(this.#book, answer.events);
      last = answer.last;
    }
  }

  /** Hour by hour, the last one first. */
  async #askDepartures(): Promise<void> {
    const path = `/api/runs/${this.#run.id}/departures`;
    const { until, ...last } = await askServer({ server: this.#server, path, schema: departuresAnswerSchema });
    let { departures, earlier } = last;
    while (earlier !== undefined) {
      const hour = await askServer({
        server: this.#server,
        path: `${path}?before=${earlier}`,
        schema: departuresAnswerSchema,
      });
      departures = [...hour.departures, ...departures];
      earlier = hour.earlier;
    }
    this.#log = new DepartureLog(departures, until);
    this.#lookAhead();
  }

  #lookAhead(): void {
    const ahead = this.#log.ahead(this.#sheet, this.#run.motions, instant(this.#log.until + AHEAD_MS));
    this.#upcoming = ahead.sort((a, b) => a.at - b.at || a.lane - b.lane);
  }
}
