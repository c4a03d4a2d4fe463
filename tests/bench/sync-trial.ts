import { PROFILES } from '../faults/network-profiles.ts';
import { type Occasion, runProfile, triedPage } from '../faults/profile-run.ts';
import { plainClock, timesyncClock } from './sync-peers.ts';
import type { Spread, TrialResult } from './sync-results.ts';

/**
 * `node sync-trial.ts SEED RUNS`: runs the clocks side by side and prints their errors as JSON. A process of its own,
 * because timesync can only be driven in simulated time by replacing the globals it uses.
 */

/** So many runs apart begin neighbouring seeds: no run is in two trials. */
const MOST_RUNS = 4096;

const [seed = 0, runs = 1] = process.argv.slice(2).map(Number);

// Outside a browser timesync wants a package for promises that it does not bring.
Object.assign(globalThis, { window: { Promise } });
const { create } = await import('timesync');

const CLOCKS = {
  Farwall: triedPage,
  timesync: (surroundings: Parameters<typeof triedPage>[0]) => timesyncClock(create, surroundings),
  'plain server time': plainClock,
};

/** The error that a share of the looks does not exceed. @param sorted ascending */
const quantile = (sorted: Float64Array, share: number): number =>
  sorted[Math.max(0, Math.ceil(sorted.length * share) - 1)] ?? Number.NaN;

function spreadOf(errors: readonly number[]): Spread {
  const sorted = Float64Array.from(errors, Math.abs).sort();
  return { p50: quantile(sorted, 0.5), p99: quantile(sorted, 0.99), max: quantile(sorted, 1), looks: sorted.length };
}

async function trial(profile: (typeof PROFILES)[keyof typeof PROFILES]): Promise<TrialResult[]> {
  const names = Object.keys(CLOCKS);
  const tried = names.map((clock) => {
    const errors: Record<Occasion, number[]> = { any: [], 'outage-end': [], 'after-outage': [] };
    return { clock, errors, beyondBound: 0 };
  });
  for (let run = 0; run < runs; run += 1) {
    await runProfile(profile, seed * MOST_RUNS + run, Object.values(CLOCKS), (place, errorMs, boundMs, occasion) => {
      const one = tried[place];
      one?.errors[occasion].push(errorMs);
      if (one && boundMs !== null && Math.abs(errorMs) > boundMs) one.beyondBound += 1;
    });
  }
  return tried.map(({ clock, errors, beyondBound }) => ({
    profile: profile.name,
    clock,
    beyondBound,
    any: spreadOf(errors.any),
    outageEnd: profile.outages.length > 0 ? spreadOf(errors['outage-end']) : null,
    afterOutage: profile.outages.length > 0 ? spreadOf(errors['after-outage']) : null,
  }));
}

const results: TrialResult[] = [];
for (const profile of Object.values(PROFILES)) results.push(...(await trial(profile)));
process.stdout.write(JSON.stringify(results));
