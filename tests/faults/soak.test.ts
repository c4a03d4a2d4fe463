import { expect, test } from 'vitest';
import { ROUNDING_MS } from './fuzz-record.ts';
import { inMemoryFolder } from './memory-folder.ts';
import { Soak } from './soak.ts';

/** `npm run faults -- --soak 12` sets both. */
const HOURS = Number(process.env.FARWALL_SOAK ?? 1);
const SEED = Number(process.env.FARWALL_SEED ?? 1);

/** More than practices differ by, bytes. */
const MOST_GROWTH = 8 * 1024 * 1024;

const megabytes = (bytes: number): number => Math.round(bytes / 1024 / 102.4) / 10;

test(`[SYN2] [SYN5] in ${HOURS} h of practices no screen drifts and no memory is lost (seed ${SEED})`, {
  timeout: HOURS * 120_000,
}, async () => {
  await inMemoryFolder(async (folder) => {
    const soak = new Soak(SEED, folder);
    await soak.run(HOURS);
    const { heaps, seen, counts, world } = soak;
    world.server.close();
    if (process.env.FARWALL_SOAK) console.log(JSON.stringify({ ...counts, ...seen, heapMb: heaps.map(megabytes) }));
    expect(world.server.faults).toEqual([]);
    expect(seen.looks).toBeGreaterThan(HOURS * 1000);
    expect(seen.estimateBeyondMs).toBeLessThanOrEqual(ROUNDING_MS);
    expect(seen.stillBeyond).toBe(0);
    const [first = 0, ...later] = heaps;
    for (const heap of later) expect(heap - first, `MB: ${heaps.map(megabytes)}`).toBeLessThan(MOST_GROWTH);
  });
});
