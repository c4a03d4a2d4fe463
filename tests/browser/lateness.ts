import { expect } from 'vitest';
import { quantile } from '../bench/measure.ts';
import type { CountdownChange, Watched } from './countdown-watch.ts';
import { boardOf, type RunOnWall } from './pool-process.ts';
import type { Origin, TruePoolClock } from './true-time.ts';

/** The mirror gives the bound in tenths of a millisecond; Chromium's clock goes in such steps. */
const STEP_MS = 0.1;

export interface Truth {
  readonly live: RunOnWall;
  readonly clock: TruePoolClock;
  readonly origin: Origin;
}

/** A change of a countdown against the instant at which it should come; ms of true pool time after that. */
export interface Lateness {
  readonly change: CountdownChange;
  /** When the script of the frame that shows it was done. */
  readonly doneMs: number;
  /** The first frame before it that could have shown it; null: there is none. */
  readonly missedMs: number | null;
  /** How well all of this is known, together with what the wall knows of the clock. */
  readonly openMs: number;
}

export function latenessOf(change: CountdownChange, { frames }: Watched, { live, clock, origin }: Truth): Lateness {
  const lane = boardOf(live, change.poolAt).lanes.find((one) => one.lane === change.lane);
  const nextAt = lane?.nextAt ?? Number.NaN;
  expect(change.nextAt).toBe(Math.round(nextAt));
  const dueAt = nextAt - (change.seconds ?? Number.NaN) * 1000;
  const after = (pageMs: number): number => clock.at(pageMs + origin.ms) - dueAt;
  const openMs = (change.syncMs ?? Number.NaN) + origin.doubtMs + STEP_MS;
  const missed = frames.filter(
    ({ at, calledUntil }) => at < change.drawnAt - STEP_MS && after(Math.min(at, calledUntil)) >= openMs,
  );
  const [first] = missed;
  return { change, doneMs: after(change.doneAt), missedMs: first ? after(first.at) : null, openMs };
}

/** It comes in the first frame that begins after its instant, as far as the wall can know that. */
export function expectInTime({ change, doneMs, missedMs, openMs }: Lateness): void {
  const said = `lane ${change.lane} to ${change.seconds}, ${change.link}, done ${doneMs} ms after`;
  expect(doneMs, said).toBeGreaterThanOrEqual(-openMs);
  expect(missedMs, said).toBeNull();
}

export function report(when: string, lates: readonly Lateness[]): void {
  const done = lates.map(({ doneMs }) => doneMs).toSorted((a, b) => a - b);
  const bounds = lates.map(({ change }) => change.syncMs ?? Number.NaN);
  const [p50, p95, most] = [0.5, 0.95, 1].map((share) => quantile(done, share).toFixed(1));
  const bound = Math.max(...bounds).toFixed(1);
  console.log(
    `${when}: ${lates.length} changes, late by ${p50} (p50), ${p95} (p95), ${most} ms at most; bound ${bound}`,
  );
}
