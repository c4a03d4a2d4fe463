import { spawnSync } from 'node:child_process';
import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('../../', import.meta.url));
const demo = join(root, 'server', 'demo', 'squad.csv');
const folder = mkdtempSync(join(tmpdir(), 'farwall-lanes-'));

function squadFile(name: string, ...rows: string[]): string {
  const path = join(folder, name);
  writeFileSync(path, ['swimmer,lane,category,event,course,time,kind', ...rows, ''].join('\n'));
  return path;
}

function lanes(...args: string[]): { status: number | null; out: string; err: string } {
  const { status, stdout, stderr } = spawnSync(process.execPath, [join(root, 'server', 'lanes-command.ts'), ...args], {
    encoding: 'utf8',
  });
  return { status, out: stdout, err: stderr };
}

/** The rows of the table with runs of spaces as one. */
const rowsOf = (out: string): string[] => out.split('\n').map((row) => row.trim().replace(/ +/g, ' '));

/** Ada goal and best; Bela only in yards; Cato and Dora without a 200 free. */
const small = squadFile(
  'small.csv',
  'Ada Vance,2,,200 free,SCM,2:00.00,best',
  'Ada Vance,,,200 free,SCM,1:58.00,goal',
  'Bela Sorn,1,women,200 free,SCY,1:50.00,best',
  'Cato Lind,1,,200 fly,SCM,2:20.00,best',
  'Dora Mell,,,200 fly,SCM,2:24.00,best',
);

const MISTAKES: [string[], RegExp][] = [
  [[], /no squad given: name a CSV file/],
  [[demo, 'more.csv'], /"more\.csv" is one too many/],
  [['nowhere.csv'], /nowhere\.csv: there is no such file/],
  [[squadFile('none.csv')], /none\.csv: nobody is in this squad: add a row a swimmer/],
  [[squadFile('bad.csv', 'Ada,1,,200 free,SCM,fast,')], /bad\.csv:2:6: error squad: "fast" is not a swim time/],
  [[demo, '--lanes', '13'], /--lanes "13" is not a number of lanes: write 1 to 12/],
  [[demo, '--capacity', '0'], /--capacity "0" is not a number of swimmers in a lane: write 1 to 12/],
  [[demo, '--by', '200 dolphin'], /--by "200 dolphin" is not an event: write it like "200 free"/],
  [[demo, '--course', 'OPEN'], /--course "OPEN" is not a course/],
  [[demo, '--apart', ':05'], /--apart/],
  [[demo, '--lanes', '4', '--capacity', '5'], /24 swimmers do not fit into 4 lanes of 5: take 5 lanes or allow 6/],
  [[demo, '--by', '800 back'], /nobody has a 800 back time \(SCM\): add times, or ask --by another event/],
  [[demo, '--keep', 'Ines Valdoro'], /--keep "Ines Valdoro" names no lane: write it like/],
  [[demo, '--keep', 'Ines Valdoro=7'], /there is no such lane: write 1 to 6/],
  [[demo, '--keep', 'Ines=2'], /nobody of that name is in .*squad\.csv: did you mean "Ines Valdoro"\?/],
  [[demo, '--keep', 'Ines Valdora=2'], /did you mean "Ines Valdoro"\?/],
  [[demo, '--keep', 'Zed Nobody=2'], /write the name as it stands there/],
  [[demo, '--keep', 'Ines Valdoro=2', '--keep', 'ines valdoro=3'], /kept in lane 2 already/],
  [
    [small, '--capacity', '1', '--keep', 'Ada Vance=2', '--keep', 'Dora Mell=2'],
    /lane 2 has 2 swimmers fixed in it; a lane takes 1: fix at most 1 in lane 2, or allow 2 .*\(--keep, --capacity\)/,
  ],
];

describe('the lanes command', () => {
  it('proposes lanes for the demo squad', () => {
    const { status, out, err } = lanes(demo);
    expect(err).toBe('');
    expect(status).toBe(0);
    const rows = rowsOf(out);
    expect(rows[0]).toBe('Lanes by 200 free · SCM · at most 6 a lane');
    expect(rows).toContain('lane group mean spread time swimmer');
    // By hand: (1:56.19 + 1:59.05) / 2 and their difference.
    expect(rows).toContain('1 A 1:57.62 2.86 1:56.19 Ines Valdoro');
    expect(rows).toContain('2:01.87 Ruben Osei-Lund now in 1');
    expect(rows.filter((row) => /\d:\d\d\.\d\d [A-Z]/.test(row))).toHaveLength(24);
    expect(out).toMatch(/^Sum of squared differences from the lane means: \d+\.\d\d s²\n$/m);
    expect(out).not.toContain('~');
  });

  it('keeps within 100 columns, however long a name is', () => {
    const long = squadFile(
      'long.csv',
      `${'Maximiliana '.repeat(5).trim()},12,women,100 free,LCM,1:00.00,best`,
      ',,,400 free,LCM,4:30.00,best',
    );
    const { out } = lanes(long, '--course', 'LCM', '--keep', `${'Maximiliana '.repeat(5).trim()}=6`);
    expect(out).toContain('Maximiliana Maximiliana M…');
    for (const row of out.split('\n')) expect([...row].length).toBeLessThanOrEqual(100);
  });

  it('marks estimated times, says what they come from, and lists who has none', () => {
    const { out } = lanes(small, '--lanes', '2', '--keep', 'cato lind=2');
    const rows = rowsOf(out);
    expect(rows).toContain('1 A 1:58.00 0.00 1:58.00 Ada Vance now in 2');
    expect(rows.find((row) => row.includes('Bela Sorn'))).toMatch(
      /^2 A (2:\d\d\.\d\d) 0\.00 ~\1 Bela Sorn now in 1, converted from SCY$/,
    );
    expect(rows).toContain('no time Cato Lind kept, now in 1');
    expect(rows).toContain('Cato Lind: no 200 free time (SCM); kept in lane 2');
    expect(rows).toContain('Dora Mell: no 200 free time (SCM)');
    expect(out.trimEnd().split('\n').at(-1)).toMatch(/^~ is estimated from other times of the swimmer/);
  });

  it('prints JSON', () => {
    const { status, out } = lanes(small, '--lanes', '3', '--capacity', '2', '--keep', 'Cato Lind=3', '--json');
    expect(status).toBe(0);
    const json = JSON.parse(out);
    expect(json).toMatchObject({ by: '200 free', course: 'SCM', capacity: 2, sumOfSquares: 0 });
    expect(json.lanes[0]).toEqual({
      lane: 1,
      group: 'A',
      meanMs: 118_000,
      spreadMs: 0,
      swimmers: [
        {
          name: 'Ada Vance',
          ms: 118_000,
          basis: '200 free 1:58.00 SCM (goal)',
          estimated: false,
          kept: false,
          laneNow: 2,
        },
      ],
    });
    expect(json.lanes[1].swimmers[0]).toMatchObject({ name: 'Bela Sorn', estimated: true });
    expect(json.lanes[2]).toEqual({
      lane: 3,
      group: null,
      meanMs: null,
      spreadMs: null,
      swimmers: [{ name: 'Cato Lind', ms: null, basis: null, estimated: false, kept: true, laneNow: 1 }],
    });
    expect(json.without).toEqual([
      { name: 'Cato Lind', missing: 'no 200 free time (SCM)' },
      { name: 'Dora Mell', missing: 'no 200 free time (SCM)' },
    ]);
  });

  it('goes by the event, the course and the kind of time asked for', () => {
    const fly = JSON.parse(lanes(small, '--by', '200 fly', '--lanes', '1', '--json').out);
    expect(fly.by).toBe('200 fly');
    expect(fly.lanes[0]).toMatchObject({ meanMs: 142_000, spreadMs: 4000 });
    // By hand: 2 · 2² s².
    expect(fly.sumOfSquares).toBe(8_000_000);
    const yards = JSON.parse(lanes(small, '--course', 'scy', '--json').out);
    expect(yards.lanes.flatMap((lane: { swimmers: unknown[] }) => lane.swimmers)).toContainEqual(
      expect.objectContaining({ name: 'Bela Sorn', ms: 110_000, estimated: false }),
    );
    const best = JSON.parse(lanes(small, '--prefer', 'best', '--json').out);
    expect(best.lanes[0].swimmers[0]).toMatchObject({ name: 'Ada Vance', ms: 120_000 });
  });

  it.each(MISTAKES)('says in one sentence what is wrong with %j', (args, message) => {
    const { status, out, err } = lanes(...args);
    expect(err).toMatch(message);
    expect(err.trim().split('\n')).toHaveLength(1);
    expect(out).toBe('');
    expect(status).toBe(1);
  });
});
