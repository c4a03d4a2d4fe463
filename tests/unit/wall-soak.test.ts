import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { growthIn, heapAnHour, SAMPLES, type Sample } from '../bench/soak-growth.ts';

const MB = 1024 * 1024;

/** Samples half an hour apart; invented numbers. */
const samples = (change: (place: number) => Partial<Sample>): Sample[] =>
  Array.from({ length: SAMPLES }, (_, place) => ({
    atMs: (place + 1) * 1_800_000,
    draws: place * 18_000,
    heapBytes: 9 * MB,
    textures: 310,
    nodes: 40,
    listeners: 12,
    ...change(place),
  }));

describe('what a soak calls growth', () => {
  it('is none when a wall holds the same, more or less, once it is warm', () => {
    const warmingUp = samples((place) => ({
      heapBytes: Math.min(9, 5 + place) * MB,
      textures: Math.min(310, place * 60),
    }));
    expect(growthIn(warmingUp)).toEqual([]);
    expect(growthIn(samples((place) => ({ textures: place % 2 === 0 ? 300 : 120 })))).toEqual([]);
  });

  it('is said of each thing that goes on growing', () => {
    const leaking = samples((place) => ({ heapBytes: (5 + place) * MB, textures: 100 + place * 5, listeners: place }));
    expect(growthIn(leaking)).toEqual([
      'The wall’s heap grew from 16384 KB to 21504 KB.',
      'The wall’s GL textures grew from 155 to 180.',
      'The wall’s listeners grew from 11 to 16.',
    ]);
    expect(heapAnHour(leaking) / MB).toBeCloseTo(2);
  });
});

/** Every call starts Node. */
const PATIENCE_MS = 120_000;

describe('the soak command', { timeout: PATIENCE_MS }, () => {
  it('says in one sentence what is wrong with what it was given', () => {
    const script = fileURLToPath(new URL('../bench/soak-command.ts', import.meta.url));
    const cases: [string[], RegExp][] = [
      [['--frames', 'many'], /--frames "many" will not do/],
      [['--frames', '4399'], /from 4400 to/],
      [['--minutes', '0'], /--minutes "0" will not do/],
      [['--frames', '5000', '--minutes', '1'], /write one of them/],
      [['--renderer', 'ink'], /--renderer "ink" draws no wall/],
      [['--frames', '5000', '--long'], /--long/],
    ];
    for (const [args, message] of cases) {
      const { status, stdout, stderr } = spawnSync(process.execPath, [script, ...args], { encoding: 'utf8' });
      expect(stdout).toBe('');
      expect(stderr).toMatch(message);
      expect(status).toBe(1);
    }
  }, 60_000);

  it('says what is missing where there is no Chromium', () => {
    const script = fileURLToPath(new URL('../bench/soak-command.ts', import.meta.url));
    const env = { ...process.env, FARWALL_CHROMIUM: '/nowhere/chromium' };
    const { status, stderr } = spawnSync(process.execPath, [script, '--seed', '1'], { encoding: 'utf8', env });
    expect(stderr).toBe('FARWALL_CHROMIUM is /nowhere/chromium, which is not a program.\n');
    expect(status).toBe(1);
  });
});
