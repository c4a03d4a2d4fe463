import { expect, it } from 'vitest';
import { syncBench } from '../bench/sync-bench.ts';
import { PROFILES } from '../faults/network-profiles.ts';

it('[SYN2] the benchmark tries three clocks in every network, and ours keeps to its bound and targets', () => {
  const entries = syncBench({ seed: 7, quick: true });
  const names = entries.map(({ name }) => name);
  for (const { name, outages } of Object.values(PROFILES)) {
    for (const clock of ['Farwall', 'timesync', 'plain server time']) {
      const measures = ['p50', 'p99', 'worst'].concat(
        outages.length > 0 ? ['worst as an outage ends', 'worst 10 s after an outage'] : [],
      );
      for (const measure of measures) expect(names).toContain(`${name} · ${clock}: ${measure}`);
    }
  }
  for (const entry of entries) {
    expect(entry).toMatchObject({ kind: 'figure' });
    expect(entry.verdict, entry.name).not.toBe('over');
  }
  expect(entries.filter(({ verdict }) => verdict === 'within')).toHaveLength(11);
});
