import { z } from 'zod';
import { type Instant, instant, instantSchema, laneNumberSchema, type SwimmerId, swimmerIdSchema } from './brand.ts';
import type { RunEvent } from './events.ts';
import type { LaneMotion } from './motion.ts';
import { sendOffsWithin } from './send-offs-within.ts';
import type { Sheet } from './sheet.ts';

export const departureSchema = z.object({
  swimmer: swimmerIdSchema,
  lane: laneNumberSchema,
  /** The step's id. */
  step: z.string(),
  /** The how-many-th time this swimmer left on this step, from 1. */
  pass: z.number().int().min(1),
  at: instantSchema,
});
/** Somebody who left on a rep. */
export type Departure = z.infer<typeof departureSchema>;

type Leaving = Omit<Departure, 'pass'>;

const keyOf = ({ swimmer, step }: Pick<Departure, 'swimmer' | 'step'>): string => `${swimmer} ${step}`;

function leavingWithin(sheet: Sheet, motions: readonly LaneMotion[], from: Instant, to: Instant): Leaving[] {
  const leaving = sendOffsWithin(sheet, motions, from, to).flatMap(({ lane, step: index, swimmer, at }): Leaving[] => {
    const step = sheet.lanes.find((each) => each.lane === lane)?.steps[index];
    return step ? [{ swimmer, lane, step: step.id, at }] : [];
  });
  return leaving.sort((a, b) => a.at - b.at);
}

/** Whether an event takes departures back, or brings some of before: who follows only vectors cannot tell which. */
export const needsHistory = (kind: RunEvent['kind'] | undefined): boolean => kind === 'undo' || kind === 'recall';

/**
 * [RUN3] Who left when on which step, how often: what the vectors in force said at the time. What is in it stays as it
 * is, whatever the vectors become; only a recall takes departures back. Send-offs fall on whole milliseconds.
 */
export class DepartureLog {
  #all: Departure[] = [];
  readonly #byStep = new Map<string, Departure[]>();
  #until: Instant;

  /** @param until everybody who left up to then is among `known` */
  constructor(known: readonly Departure[], until: Instant) {
    this.#until = until;
    for (const departure of known) this.#keep(departure);
  }

  /** Up to this instant the log is complete. */
  get until(): Instant {
    return this.#until;
  }

  get all(): readonly Departure[] {
    return this.#all;
  }

  /** [RUN3] Takes in who left up to `to` while the lanes moved by these vectors. */
  pass(sheet: Sheet, motions: readonly LaneMotion[], to: Instant): void {
    if (to < this.#until) return;
    for (const departure of this.ahead(sheet, motions, to)) this.#keep(departure);
    this.#until = instant(Math.floor(to));
  }

  /** Who left after that and up to `t`, as the lanes move by these vectors; nothing is taken in. */
  ahead(sheet: Sheet, motions: readonly LaneMotion[], t: Instant): Departure[] {
    // New vectors may set off at the very instant that the old ones were in force up to.
    const leaving = leavingWithin(sheet, motions, instant(this.#until - 1), t);
    const passes = new Map<string, number>();
    return leaving.flatMap((one) => {
      const key = keyOf(one);
      const known = this.#byStep.get(key) ?? [];
      if (known.some(({ at }) => at === one.at)) return [];
      const pass = (passes.get(key) ?? known[known.length - 1]?.pass ?? 0) + 1;
      passes.set(key, pass);
      return [{ ...one, pass }];
    });
  }

  /**
   * [CMD6] What was pressed at `from` is undone at `to`, as if it had never been pressed: takes in who left in between
   * by the vectors of before. Who left on the step anyhow keeps that send-off.
   */
  undo(sheet: Sheet, motions: readonly LaneMotion[], from: Instant, to: Instant): void {
    for (const one of leavingWithin(sheet, motions, instant(from - 1), to)) {
      const known = this.#byStep.get(keyOf(one)) ?? [];
      if (known.every(({ at }) => at < from)) this.#keep({ ...one, pass: (known[known.length - 1]?.pass ?? 0) + 1 });
    }
  }

  /** A false start: who left in these lanes since then has not. @returns those */
  takeBack(lanes: readonly number[], since: Instant): Departure[] {
    const isBack = ({ lane, at }: Departure): boolean => at >= since && lanes.includes(lane);
    const back = this.#all.filter(isBack);
    this.#all = this.#all.filter((departure) => !isBack(departure));
    for (const key of new Set(back.map(keyOf))) {
      this.#byStep.set(
        key,
        (this.#byStep.get(key) ?? []).filter((departure) => !isBack(departure)),
      );
    }
    return back;
  }

  find(swimmer: SwimmerId, step: string, pass: number): Departure | undefined {
    return this.#byStep.get(keyOf({ swimmer, step }))?.find((departure) => departure.pass === pass);
  }

  #keep(departure: Departure): void {
    const key = keyOf(departure);
    this.#all.push(departure);
    const known = this.#byStep.get(key);
    if (known) known.push(departure);
    else this.#byStep.set(key, [departure]);
  }
}
