import { spawnSync } from 'node:child_process';
import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { printedSheetSchema } from '../../server/planning/sheet-json-schema.ts';
import { DEMO_PRACTICES } from '../fixtures/planning.ts';

const root = fileURLToPath(new URL('../../', import.meta.url));
const demo = (name: string): string => join(root, 'server', 'demo', name);
const folder = mkdtempSync(join(tmpdir(), 'farwall-sheet-'));

function file(name: string, content: string | Uint8Array): string {
  const path = join(folder, name);
  writeFileSync(path, content);
  return path;
}

function sheet(...args: string[]): { status: number | null; out: string; err: string } {
  const { status, stdout, stderr } = spawnSync(process.execPath, [join(root, 'server', 'sheet-command.ts'), ...args], {
    encoding: 'utf8',
  });
  return { status, out: stdout, err: stderr };
}

const squad = demo('squad.csv');

describe('the sheet command', () => {
  it.each(DEMO_PRACTICES)('prints the %s practice as a table', (name) => {
    const { status, out, err } = sheet(demo(`${name}.txt`), '--squad', squad);
    expect(err).toBe('');
    expect(status).toBe(0);
    expect(out).toContain('Lane 6 · group C');
    expect(out).toMatch(/^ {2}at +line +what +from +cycle +targets/m);
    expect(Math.max(...out.split('\n').map((line) => line.length))).toBeLessThanOrEqual(100);
  });

  it('reads a squad without its column of birth dates, and says so', () => {
    const born = file('born.csv', 'swimmer,born,lane,event,course,time\nAda Vance,2014,1,200 free,SCM,2:00.00\n');
    const { status, out, err } = sheet(file('one.txt', '4 x 100 free @ 2:00 at 200 pace\n'), '--squad', born);
    expect([status, err]).toEqual([
      0,
      `${born}:1: info squad: the column "born" is not read: no birth dates or ages are needed\n`,
    ]);
    expect(out).not.toContain('2014');
  });

  it('prints JSON that its schema reads and prints again, letter for letter', () => {
    const { status, out } = sheet(demo('stand-up.txt'), '--squad', squad, '--json');
    expect(status).toBe(0);
    expect(`${JSON.stringify(printedSheetSchema.parse(JSON.parse(out)), null, 1)}\n`).toBe(out);
  });

  it('prints JSON with the fields of the run sheet, swimmers by name', () => {
    const { status, out } = sheet(demo('active-rest.txt'), '--squad', squad, '--json');
    expect(status).toBe(0);
    const json = JSON.parse(out);
    expect(Object.keys(json)).toEqual([
      'title',
      'course',
      'durationMs',
      'distance',
      'conventions',
      'groups',
      'sets',
      'lanes',
      'byStyle',
      'bySection',
      'messages',
    ]);
    expect(json.sets[2]).toEqual({
      line: 8,
      section: 'Main set',
      style: 'active rest',
      styleReason: expect.any(String),
      words: '8 × 100 free',
      detail: expect.stringContaining('50 easy'),
    });
    const step = json.lanes[0].steps.find((candidate: { line: number }) => candidate.line === 8);
    expect(step).toMatchObject({
      id: '8.0.0.1',
      kind: 'rep',
      durationMs: 85_000,
      section: 'Main set',
      style: 'active rest',
      rep: 1,
      reps: 8,
      distance: 100,
      stroke: 'free',
      activity: 'swim',
      start: 'push',
      fromEnd: 'near',
      toEnd: 'near',
      equipment: [],
    });
    expect(step.targets[0].swimmer).toBe(json.lanes[0].swimmers[0].name);
    expect(
      step.targets[0].splits.map(({ distance, paced }: { distance: number; paced: boolean }) => [distance, paced]),
    ).toEqual([
      [50, true],
      [100, false],
    ]);
    expect(step.targets[0].basis).toContain('even pace');
    expect(step.targets[0].workRest).toMatch(/^1:\d\.\d$/);
  });

  it('has what is swum in each section and style, of every lane and of the one that swims most', () => {
    const { out } = sheet(demo('active-rest.txt'), '--squad', squad, '--json');
    const { lanes, bySection, byStyle, distance } = printedSheetSchema.parse(JSON.parse(out));
    for (const lane of lanes) {
      expect(lane.bySection.map(({ section }) => section)).toEqual(['Warm-up', 'Main set', 'Kick', 'Swim down']);
      expect(lane.bySection.reduce((sum, { durationMs }) => sum + durationMs, 0)).toBe(lane.durationMs);
    }
    const longest = lanes.find((lane) => lane.distance === distance);
    expect(bySection).toEqual(longest?.bySection);
    expect(byStyle).toEqual(longest?.byStyle);
  });

  it('says which conventions its numbers follow', () => {
    const { out: plain } = sheet(demo('race-pace.txt'), '--squad', squad);
    expect(plain).toContain(
      'percent is of speed; race pace from a push is the even pace; easy is 65 % of 200-pace speed;',
    );
    expect(plain).toContain('of several times of an event the goal comes first');
    const flags = ['--percent', 'time', '--pace', 'without-dive', '--prefer', 'best'];
    const { out: other } = sheet(demo('race-pace.txt'), '--squad', squad, ...flags);
    expect(other).toContain('percent is of time; race pace from a push is without the dive;');
    expect(other).toContain('the best comes first');
  });

  it('warns where a lane runs out of the time the pool is booked for', () => {
    const { status, out } = sheet(demo('active-rest.txt'), '--squad', squad, '--minutes', '30');
    expect(status).toBe(0);
    expect(out).toMatch(/warning pool-time, line 10, lane \d: the pool is booked for 30 min;/);
    expect(sheet(demo('active-rest.txt'), '--squad', squad, '--minutes', '90').out).not.toContain('pool-time');
  });

  it('names file, line and column of every error and prints no sheet', () => {
    const bad = file('bad.txt', 'Main\n4 x 50 free @ 1;30\n4 x 60 free @ 1:00\n');
    const { status, out, err } = sheet(bad, '--squad', squad);
    expect(status).toBe(1);
    expect(out).toBe('');
    expect(err.split('\n')[0]).toMatch(/bad\.txt:2:\d+: error unreadable: .*1:30/);
  });

  it('says in one sentence what is wrong with what it was given', () => {
    const cases: [string[], RegExp][] = [
      [[], /no practice given/],
      [[demo('power.txt')], /no squad given: add --squad/],
      [[demo('power.txt'), '--squad', 'nowhere.csv'], /nowhere\.csv: there is no such file/],
      [[demo('power.txt'), '--squad', folder], /this is a folder/],
      [[file('latin.txt', Uint8Array.of(0x50, 0xe9, 0x0a)), '--squad', squad], /not UTF-8/],
      [[demo('power.txt'), '--squad', squad, '--lanes', '13'], /--lanes "13" is not a number of lanes/],
      [[demo('power.txt'), '--squad', squad, '--course', 'OPEN'], /--course "OPEN" is not a course/],
      [[demo('power.txt'), '--squad', squad, '--apart', '5'], /--apart "5" is not a gap/],
      [[demo('power.txt'), '--squad', squad, '--minutes', '0'], /--minutes "0" is not how long a pool is booked/],
      [[demo('power.txt'), '--squad', squad, '--shout'], /--shout/],
      [
        [demo('power.txt'), '--squad', file('s.csv', 'swimmer,event,course,time\nA,200 free,SCM,fast\n')],
        /s\.csv:2:4: error squad: "fast" is not a swim time/,
      ],
    ];
    for (const [args, message] of cases) {
      const { status, err } = sheet(...args);
      expect(err).toMatch(message);
      expect(err.trim().split('\n')).toHaveLength(1);
      expect(status).toBe(1);
    }
  });
});
