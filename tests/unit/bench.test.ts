import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';

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

/** The group `wall` needs one: tests/browser/wall-soak.test.ts. */
const WITHOUT_BROWSER = ['compile', 'sync', 'push', 'flood', 'recover', 'results', 'desk'];

const PUSH = [
  ...['Farwall', 'Farwall, walls as bare as those of raw ws', 'raw ws', 'raw ws that first keeps it on disk'].flatMap(
    (server) => [`10 clients · ${server}: p50`, `10 clients · ${server}: p99`],
  ),
  '10 clients · p50 of Farwall over raw ws',
  '10 clients · p50 of Farwall, walls as bare as those of raw ws over raw ws',
  '10 clients · p50 of Farwall, walls as bare as those of raw ws over raw ws that first keeps it on disk',
  'longest event for 10 lanes on the wire',
];
const FLOOD = ['quiet', '2000 messages a second and 300 sockets'].flatMap((state) =>
  ['p50', 'p99'].map((share) => `press to the last of 12 walls · ${state}: ${share}`),
);
const RECOVER = [
  '1 run · database',
  ...[
    'empty folder to /health',
    'to /health',
    'to the whole run on a wall',
    'to the whole run on a deck',
    'opening the database by itself',
    'checking its file by itself',
  ].flatMap((what) => [`1 run · ${what}: median`, `1 run · ${what}: longest`]),
];

const RESULTS = [
  'results of a practice',
  'season of a set',
  'kinds of sets',
  'twelve weeks of the squad',
  'twelve weeks of a swimmer',
  'all worked out for the first time',
  'of that a practice',
  'longest hold-up meanwhile',
].map((what) => `1,000 times · ${what}`);

const DESK = [
  ...[
    'page · the desk opens, on a practice of two hours',
    'page · another practice is opened',
    'page · preview of two hours, as it is written',
    'page · versions of a practice',
    'page · the squad, its pool and who is away',
    "page · a swimmer's page",
    'page · a squad file is looked at',
    'page · Today, what is planned and who is here',
    "page · the week's plan",
    'page · results, of the last practice',
    'page · results, of another practice',
    'page · results, older practices',
    'page · a set over the season',
    'page · weeks, of the squad',
    'page · weeks, of a swimmer',
    'page · weeks, a whole year',
    'search · by text',
    'search · by style',
    'search · by date',
    'search · by distance',
    'search · by all of them',
  ].flatMap((what) => [what, `${what}: longest`, `${what}: its answers`]),
  'list · titles of the library, all at once',
  'list · practices found, first page',
  'list · practices swum, first page',
  'list · sets swum, first page',
  'first search of all, with every practice read',
  'first season of all, with every practice swum worked out',
  'times taken in all',
  'database',
];

const judged = { name: z.string(), target: z.number().optional(), verdict: z.enum(['within', 'over']).optional() };
const number = z.number().min(0);
const entrySchema = z.discriminatedUnion('kind', [
  z.strictObject({
    ...judged,
    kind: z.literal('time'),
    unit: z.literal('ms'),
    median: z.number().positive(),
    p95: z.number().positive(),
    samples: z.number().int().positive(),
  }),
  z.strictObject({
    ...judged,
    kind: z.literal('figure'),
    unit: z.enum(['×', 'kB', 'KB', 'MB', 'ms', 'entries']),
    value: number,
  }),
]);
const reportSchema = z.strictObject({
  node: z.string(),
  seed: z.number(),
  quick: z.boolean(),
  groups: z.record(z.string(), z.array(entrySchema)),
});

/** Every call starts Node, and one of them eight servers after one another. */
const PATIENCE_MS = 180_000;

describe('the benchmarks', { timeout: PATIENCE_MS }, () => {
  it('measure everything they name, in JSON with the seed', () => {
    const { status, out, err } = bench(...WITHOUT_BROWSER, '--quick', '--json', '--seed', '7');
    expect(err).toBe('');
    expect(status).toBe(0);
    const report = reportSchema.parse(JSON.parse(out));
    expect(report).toMatchObject({ seed: 7, quick: true });
    const { sync = [], ...others } = report.groups;
    const names = Object.entries(others).map(([group, entries]) => [group, entries.map(({ name }) => name).sort()]);
    expect(Object.fromEntries(names)).toEqual({
      compile: [...TIMED, ...FIGURES].sort(),
      push: [...PUSH].sort(),
      flood: [...FLOOD].sort(),
      recover: [...RECOVER].sort(),
      results: [...RESULTS].sort(),
      desk: [...DESK].sort(),
    });
    for (const entry of Object.values(others).flat()) {
      if (entry.kind === 'figure') expect(entry.value, entry.name).toBeGreaterThan(0);
    }
    for (const { name, target, verdict } of [...sync, ...Object.values(others).flat()]) {
      expect(verdict === undefined, name).toBe(target === undefined);
    }
  });

  it('print a line for everything and the seed to do it again with', () => {
    const { status, out } = bench('compile', '--quick', '--seed', '7');
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
