import { describe, expect, test } from 'vitest';
import { Fuzz } from './fuzz.ts';
import { inMemoryFolder } from './memory-folder.ts';

/** `npm run faults -- --fuzz` sets both. */
const SEEDS = Number(process.env.FARWALL_FUZZ ?? 8);
const FIRST_SEED = Number(process.env.FARWALL_SEED ?? 1);

const LAST_STEPS = 60;

/** @returns what went wrong, with the last steps that led to it; null when nothing did */
const failureOf = (seed: number): Promise<string | null> =>
  inMemoryFolder(async (folder) => {
    const fuzz = new Fuzz(seed, folder);
    try {
      await fuzz.run();
      return null;
    } catch (error) {
      const why = error instanceof Error ? error.stack : String(error);
      return [`seed ${seed}: ${why}`, ...fuzz.steps.slice(-LAST_STEPS)].join('\n');
    } finally {
      fuzz.world.server.close();
    }
  });

describe('a pool where anything happens', () => {
  test(`[RUN2] [RUN3] [CMD1] [CMD3] [CMD5] [CMD8] [SYN2] [SYN4] [FLT1] ends with all screens agreed (${SEEDS} seeds from ${FIRST_SEED})`, {
    timeout: 60_000 * SEEDS,
  }, async () => {
    const failures: string[] = [];
    for (let seed = FIRST_SEED; seed < FIRST_SEED + SEEDS; seed += 1) {
      const failure = await failureOf(seed);
      if (failure) failures.push(failure);
    }
    expect(failures.join('\n\n')).toBe('');
  });
});
