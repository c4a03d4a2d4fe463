import { type Instant, instant, type SwimmerId } from '../../shared-types/brand.ts';
import { type Departure, DepartureLog } from '../../shared-types/departures.ts';
import type { RunEvent } from '../../shared-types/events.ts';
import type { LaneMotion } from '../../shared-types/motion.ts';
import type { Sheet } from '../../shared-types/sheet.ts';

/**
 * [CMD4] No event that is still to come takes effect longer ago than two seconds: what is older is settled. Ms, with
 * something to spare.
 */
const SETTLED_AFTER_MS = 2500;

interface Past {
  readonly event: RunEvent;
  readonly sheet: Sheet;
}

const NO_MOTIONS: readonly LaneMotion[] = [];

/** [RUN3] [CMD5] Who left when in one run, as its control events have it. */
export class RunDepartures {
  readonly #log: DepartureLog;
  readonly #past: Past[] = [];
  #sheet: Sheet;
  #motions = NO_MOTIONS;
  /** What each recall took back, by its seq. */
  readonly #takenBack = new Map<number, readonly Departure[]>();

  constructor(sheet: Sheet, loadedAt: Instant) {
    this.#sheet = sheet;
    this.#log = new DepartureLog([], loadedAt);
  }

  /** Of the last event taken in. */
  get seq(): number {
    return this.#past.length;
  }

  get takenBack(): ReadonlyMap<number, readonly Departure[]> {
    return this.#takenBack;
  }

  /** @param sheet the one the lanes move along from this event on */
  happened(event: RunEvent, sheet: Sheet): void {
    if (event.seq <= this.seq) return;
    this.#log.pass(this.#sheet, this.#motions, event.at);
    const other = event.takesBack === undefined ? undefined : this.#past[event.takesBack - 1];
    if (other && event.kind === 'undo') this.#undone(other.event, event.at);
    if (other && event.kind === 'recall') this.#recalled(other, event.seq);
    this.#past.push({ event, sheet });
    this.#sheet = sheet;
    this.#motions = event.motions;
  }

  /** Everybody who left up to `now`. */
  upTo(now: Instant): readonly Departure[] {
    const ahead = this.#ahead(now);
    return [...this.#log.all, ...ahead];
  }

  /** The swimmer's send-off, if it has been. */
  find(swimmer: SwimmerId, step: string, pass: number, now: Instant): Departure | undefined {
    const isIt = (one: Departure): boolean => one.swimmer === swimmer && one.step === step && one.pass === pass;
    const ahead = this.#ahead(now);
    return this.#log.find(swimmer, step, pass) ?? ahead.find(isIt);
  }

  #ahead(now: Instant): Departure[] {
    this.#log.pass(this.#sheet, this.#motions, instant(now - SETTLED_AFTER_MS));
    return this.#log.ahead(this.#sheet, this.#motions, now);
  }

  #undone({ seq, at }: RunEvent, to: Instant): void {
    const before = this.#past[seq - 2];
    if (before) this.#log.undo(before.sheet, before.event.motions, at, to);
  }

  #recalled({ event: go, sheet }: Past, recall: number): void {
    const gate = go.gate === undefined ? undefined : sheet.joins[go.gate];
    if (gate) this.#takenBack.set(recall, this.#log.takeBack(gate.lanes, go.at));
  }
}
