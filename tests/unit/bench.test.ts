import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('../../', import.meta.url));
const script: string = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')).scripts.bench;
/** What `npm run bench` gives to Node after the check of its version. */
const command = (script.split(' && node ')[1] ?? '').split(' ');

function bench(...args: string[]): { status: number | null; out: string; err: string } {
  const { status, stdout, stderr } = spawnSync(process.execPath, [...command, ...args], {
    cwd: root,
    encoding: 'utf8',
  });
  return { status, out: stdout, err: stderr };
}

const TIMED = [
  'compile of a two-hour practice',
  'compile at 1× (75 reps × 30 swimmers)',
  'compile at 2× (150 reps × 30 swimmers)',
  'compile at 4× (150 reps × 60 swimmers)',
  'compile at 8× (300 reps × 60 swimmers)',
  'parse of 64 KB',
  'boardAt, 10 lanes × 8 swimmers, 25 reps a lane',
  'boardAt, 10 lanes × 8 swimmers, 250 reps a lane',
];
const FIGURES = [
  'growth from 1× to 2×',
  'growth from 2× to 4×',
  'growth from 4× to 8×',
  'growth from 1× to 8×',
  'two-hour sheet as JSON',
  'two-hour sheet in memory',
];

const isMeasured = (value: unknown): boolean => typeof value === 'number' && Number.isFinite(value) && value > 0;

describe('the benchmarks', () => {
  it('measure everything they name, in JSON with the seed', () => {
    const { status, out, err } = bench('compile', '--quick', '--json', '--seed', '7');
    expect(err).toBe('');
    expect(status).toBe(0);
    const report = JSON.parse(out);
    expect(report).toMatchObject({ seed: 7, quick: true });
    const entries: Record<string, unknown>[] = report.groups.compile;
    expect(entries.map(({ name }) => name).sort()).toEqual([...TIMED, ...FIGURES].sort());
    for (const entry of entries) {
      const numbers = entry.kind === 'time' ? [entry.median, entry.p95, entry.samples] : [entry.value];
      expect(entry, String(entry.name)).toSatisfy(() => numbers.every(isMeasured));
      if (entry.target !== undefined) expect(['within', 'over']).toContain(entry.verdict);
    }
  });

  it('print a line for everything and the seed to do it again with', () => {
    const { status, out } = bench('--quick', '--seed', '7');
    expect(status).toBe(0);
    expect(out).toContain('seed 7');
    for (const name of [...TIMED, ...FIGURES]) expect(out).toContain(`  ${name} `);
  });

  it('say in one sentence what is wrong with what they were given', () => {
    const cases: [string[], RegExp][] = [
      [['swimming'], /there is no group "swimming" to measure: the groups are compile/],
      [['compile', 'constructor'], /there is no group "constructor"/],
      [['--seed', 'seven'], /--seed "seven" is not a seed/],
      [['--fast'], /--fast/],
    ];
    for (const [args, message] of cases) {
      const { status, out, err } = bench(...args);
      expect(out).toBe('');
      expect(err).toMatch(message);
      expect(err.trim().split('\n')).toHaveLength(1);
      expect(status).toBe(1);
    }
  });
});
