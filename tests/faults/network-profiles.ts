import type { LinkTraits, WayTraits } from './simulated-link.ts';

const SECOND_MS = 1000;
const MINUTE_MS = 60 * SECOND_MS;
const HOUR_MS = 60 * MINUTE_MS;

/** A time without a link, counted from the start. */
export interface Outage {
  readonly fromMs: number;
  readonly toMs: number;
}

/** A network as a pool may have it, the page's clock on it, and what the estimate owes there. */
export interface NetworkProfile {
  readonly name: string;
  readonly link: LinkTraits;
  /** How much faster than the page's the pool's clock is, parts per million; every second run has it the other way. */
  readonly driftPpm: number;
  readonly lengthMs: number;
  readonly outages: readonly Outage[];
  /** How often the error is looked at, ms. */
  readonly lookEveryMs: number;
  /** At most this in 99 of 100 looks after 30 s, ms; absent where nothing is promised. */
  readonly p99Ms?: number;
}

/** The estimate owes nothing before this, ms. */
export const SETTLING_MS = 30 * SECOND_MS;

/** At most this when an outage ends, and `AFTER_OUTAGE_MS` later, ms. */
export const OUTAGE_END_TARGET_MS = 35;
export const AFTER_OUTAGE_TARGET_MS = 10;
export const AFTER_OUTAGE_MS = 10 * SECOND_MS;

const way = (delayMs: number, jitterMs: number, lossShare = 0): WayTraits => ({ delayMs, jitterMs, lossShare });

/** A cheap access point in the same hall; the figures are invented, and the target is what it does with ease. */
const GOOD_WIFI: NetworkProfile = {
  name: 'good Wi-Fi',
  link: { there: way(1.5, 3, 0.001), back: way(1.5, 3, 0.001) },
  driftPpm: 10,
  lengthMs: 10 * MINUTE_MS,
  outages: [],
  lookEveryMs: SECOND_MS,
  p99Ms: 2,
};

const JITTER: NetworkProfile = {
  name: '20 ms jitter',
  link: { there: way(3, 20), back: way(3, 20) },
  driftPpm: 10,
  lengthMs: 10 * MINUTE_MS,
  outages: [],
  lookEveryMs: SECOND_MS,
  p99Ms: 5,
};

/** Only what the page sends is held up: hard for whoever takes both ways for equal, nothing for who only listens. */
const FORWARD_JITTER: NetworkProfile = {
  name: '150 ms forward-only jitter, 5 % loss',
  link: { there: way(3, 150, 0.05), back: way(3, 0, 0.05) },
  driftPpm: 10,
  lengthMs: 10 * MINUTE_MS,
  outages: [],
  lookEveryMs: SECOND_MS,
  p99Ms: 25,
};

/** The same both ways. */
const TWO_WAY_JITTER: NetworkProfile = {
  ...FORWARD_JITTER,
  name: '150 ms jitter both ways, 5 % loss',
  link: { there: way(3, 150, 0.05), back: way(3, 150, 0.05) },
};

const DRIFT: NetworkProfile = {
  name: '50 ppm drift over 3 h, two outages of 10 min',
  link: { there: way(3, 20), back: way(3, 20) },
  driftPpm: 50,
  lengthMs: 3 * HOUR_MS,
  outages: [
    { fromMs: 30 * MINUTE_MS, toMs: 40 * MINUTE_MS },
    { fromMs: 2 * HOUR_MS, toMs: 2 * HOUR_MS + 10 * MINUTE_MS },
  ],
  lookEveryMs: 5 * SECOND_MS,
};

export const PROFILES = {
  goodWifi: GOOD_WIFI,
  jitter: JITTER,
  forwardJitter: FORWARD_JITTER,
  twoWayJitter: TWO_WAY_JITTER,
  drift: DRIFT,
} as const;
