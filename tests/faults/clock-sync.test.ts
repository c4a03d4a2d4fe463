import { describe, expect, it } from 'vitest';
import { AFTER_OUTAGE_TARGET_MS, type NetworkProfile, OUTAGE_END_TARGET_MS, PROFILES } from './network-profiles.ts';
import { type Occasion, runProfile, triedPage } from './profile-run.ts';

interface Looked {
  readonly seed: number;
  readonly errorMs: number;
  readonly boundMs: number | null;
}

/** What was seen in the runs of so many seeds, by the size of the error. */
async function looksOf(profile: NetworkProfile, seeds: number): Promise<Record<Occasion, readonly Looked[]>> {
  const looks: Record<Occasion, Looked[]> = { any: [], 'outage-end': [], 'after-outage': [] };
  for (let seed = 0; seed < seeds; seed += 1) {
    await runProfile(profile, seed, [triedPage], (_, errorMs, boundMs, occasion) => {
      looks[occasion].push({ seed, errorMs: Math.abs(errorMs), boundMs });
    });
  }
  for (const list of Object.values(looks)) list.sort((one, other) => one.errorMs - other.errorMs);
  return looks;
}

const beyondBound = (looks: readonly Looked[]): readonly Looked[] =>
  looks.filter(({ errorMs, boundMs }) => boundMs === null || errorMs > boundMs);

/** The look that 99 of 100 do not exceed, with its seed. */
const p99 = (looks: readonly Looked[]): Looked | undefined => looks[Math.ceil(looks.length * 0.99) - 1];

describe('the estimate of the pool’s clock after 30 s', () => {
  it.each([PROFILES.goodWifi, PROFILES.jitter, PROFILES.forwardJitter, PROFILES.twoWayJitter])(
    '[SYN2] $name: error at most $p99Ms ms in 99 of 100 looks, never beyond its bound',
    async (profile) => {
      const { any } = await looksOf(profile, 12);
      expect(any.length).toBeGreaterThan(6000);
      expect(beyondBound(any)).toEqual([]);
      expect(p99(any), `seed ${p99(any)?.seed}`).toSatisfy(
        (look: Looked) => look.errorMs <= (profile.p99Ms ?? Number.POSITIVE_INFINITY),
      );
    },
  );

  it('[SYN2] 50 ppm over 3 h with two outages of 10 min: at most 35 ms as one ends, 10 ms ten seconds later', async () => {
    const looks = await looksOf(PROFILES.drift, 6);
    expect(beyondBound([...looks.any, ...looks['outage-end'], ...looks['after-outage']])).toEqual([]);
    expect(looks['outage-end']).toHaveLength(12);
    expect(looks['after-outage']).toHaveLength(12);
    expect(looks['outage-end'].filter(({ errorMs }) => errorMs > OUTAGE_END_TARGET_MS)).toEqual([]);
    expect(looks['after-outage'].filter(({ errorMs }) => errorMs > AFTER_OUTAGE_TARGET_MS)).toEqual([]);
  });
});
