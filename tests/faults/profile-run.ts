import { seeded } from '../bench/seeded.ts';
import { AFTER_OUTAGE_MS, type NetworkProfile, SETTLING_MS } from './network-profiles.ts';
import { SimulatedDevice } from './simulated-device.ts';
import { drawnLink, type SimulatedLink } from './simulated-link.ts';
import { SimulatedTime } from './simulated-time.ts';
import { SimulatedPool, SyncedPage } from './synced-page.ts';

/** What a clock under trial is given: everything of its own but time, device and pool. */
export interface Surroundings {
  readonly time: SimulatedTime;
  readonly device: SimulatedDevice;
  readonly pool: SimulatedPool;
  link<There, Back>(): SimulatedLink<There, Back>;
}

/** A way for a page to know the pool's clock. */
export interface TriedClock {
  connect(): void;
  disconnect(): void;
  /** Error of its estimate now, ms. */
  errorMs(): number;
  /** Bound it gives for that error, ms; absent where it gives none. */
  boundMs?(): number | null;
}

/** A page's own clock under trial. */
export function triedPage({ device, pool, link }: Surroundings): TriedClock {
  const page = new SyncedPage(device, pool, link());
  return {
    connect: () => page.connect(),
    disconnect: () => page.disconnect(),
    errorMs: () => page.errorMs(),
    boundMs: () => page.clock.boundMs(),
  };
}

/** When a look was taken: any time after settling, as an outage ended, or ten seconds later. */
export type Occasion = 'any' | 'outage-end' | 'after-outage';

export type Look = (clock: number, errorMs: number, boundMs: number | null, occasion: Occasion) => void;

/** Neighbouring seeds begin far apart. */
const spread = (seed: number): number => Math.imul(seed + 1, 0x9e37_79b1);

type Step = readonly [atMs: number, what: (clocks: readonly TriedClock[], look: Look) => void];

const lookAt =
  (occasion: Occasion): Step[1] =>
  (clocks, look) =>
    clocks.forEach((clock, place) => {
      look(place, clock.errorMs(), clock.boundMs?.() ?? null, occasion);
    });

function stepsOf({ lengthMs, outages, lookEveryMs }: NetworkProfile): Step[] {
  const looks = Array.from(
    { length: Math.floor((lengthMs - SETTLING_MS) / lookEveryMs) },
    (_, nth): Step => [SETTLING_MS + nth * lookEveryMs, lookAt('any')],
  );
  const cuts = outages.flatMap(({ fromMs, toMs }): Step[] => [
    [fromMs, (clocks) => clocks.forEach((clock) => void clock.disconnect())],
    [toMs, lookAt('outage-end')],
    [toMs, (clocks) => clocks.forEach((clock) => void clock.connect())],
    [toMs + AFTER_OUTAGE_MS, lookAt('after-outage')],
  ]);
  return [...looks, ...cuts].sort(([one], [other]) => one - other);
}

/**
 * Runs clocks side by side over links of the same traits, each with its own chance, on one device and pool.
 * @param seed an odd one has the drift the other way
 */
export async function runProfile(
  profile: NetworkProfile,
  seed: number,
  makers: readonly ((surroundings: Surroundings) => TriedClock)[],
  look: Look,
): Promise<void> {
  const time = new SimulatedTime();
  const pool = new SimulatedPool(time);
  const device = new SimulatedDevice(time, { driftPpm: seed % 2 === 0 ? profile.driftPpm : -profile.driftPpm });
  const seeds = seeded(spread(seed));
  const link = <There, Back>() => drawnLink<There, Back>(time, profile.link, seeded(seeds() * 2 ** 32));
  const clocks = makers.map((make) => make({ time, device, pool, link }));
  const startedMs = time.nowMs;
  for (const clock of clocks) clock.connect();
  for (const [atMs, what] of stepsOf(profile)) {
    await time.pass(Math.max(0, startedMs + atMs - time.nowMs));
    what(clocks, look);
  }
  for (const clock of clocks) clock.disconnect();
}
