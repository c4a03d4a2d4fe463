import { spawnSync } from 'node:child_process';
import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { rehearsalReportSchema } from '../../server/rehearsal/report-schema.ts';
import { openStore } from '../../server/store/store.ts';

const root = fileURLToPath(new URL('../../', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'farwall-rehearse-'));

function file(name: string, content: string): string {
  const path = join(folder, name);
  writeFileSync(path, content);
  return path;
}

function rehearse(...args: string[]): { status: number | null; out: string; err: string } {
  const command = [join(root, 'server', 'rehearse-command.ts'), ...args];
  const { status, stdout, stderr } = spawnSync(process.execPath, command, { encoding: 'utf8' });
  return { status, out: stdout, err: stderr };
}

const squad = file('squad.csv', 'swimmer,lane,event,course,time\nAda Vance,1,200 free,SCM,2:00.00\n');
const practice = file('short.txt', '# Short\n\nMain: race pace\n4 x 50 free @ 1:00 at 200 pace\n');

const MISTAKES: readonly (readonly [string, string[], RegExp])[] = [
  ['no practice', [], /no practice given/],
  ['no squad', [practice], /no squad given: add --squad/],
  ['a seed that is none', [practice, '--squad', squad, '--seed', '-1'], /--seed/],
  ['a seed in words', [practice, '--squad', squad, '--seed', 'lucky'], /--seed "lucky" is not a seed/],
  ['a speed beyond reach', [practice, '--squad', squad, '--speed', '1000'], /--speed "1000" is not a speed/],
  ['a port beyond the last', [practice, '--squad', squad, '--port', '70000'], /--port "70000" is not a port/],
  ['a day that is none', [practice, '--squad', squad, '--at', '2027-02-30'], /--at "2027-02-30" is not a day/],
  ['a course that is none', [practice, '--squad', squad, '--course', 'OPEN'], /--course "OPEN" is not a course/],
  [
    'a practice that cannot be read',
    [file('bad.txt', 'Main\n4 x 50 free @ 1;30\n'), '--squad', squad],
    /bad\.txt:2:\d+: error unreadable: .*1:30/,
  ],
  [
    'a squad that cannot be read',
    [practice, '--squad', file('bad.csv', 'swimmer,event,course,time\nA,200 free,SCM,fast\n')],
    /bad\.csv:2:4: error squad: "fast" is not a swim time/,
  ],
];

describe('the rehearse command', () => {
  it('prints a report and nothing of the database is left', () => {
    const { status, out } = rehearse(practice, '--squad', squad, '--seed', '5');
    expect(status).toBe(0);
    expect(out).toMatch(/^Short\nrehearsed with seed 5, \d:\d\d on the pool's clock\n/);
    expect(out).toMatch(/times {4}4 sent, 4 stored, 0 unplaced/);
    expect(out).toMatch(/\n {3}4 {2}4 × 50 free {2}race pace {5}4 {6}4 {5}\d {3}4\n/);
    expect(out).toMatch(/\nrace pace\n {2}line 4: 4 × 50 free.*\n {4}Ada Vance {2}\d of 4 held, /);
  });

  it('prints JSON that its schema reads and prints again, the same for the same seed', () => {
    const { status, out } = rehearse(practice, '--squad', squad, '--seed', '5', '--json');
    expect(status).toBe(0);
    const report = rehearsalReportSchema.parse(JSON.parse(out));
    expect(`${JSON.stringify(report, null, 1)}\n`).toBe(out);
    expect(report).toMatchObject({ seed: 5, finished: true, refused: 0, storedAsSeen: true, problems: [] });
    expect(rehearse(practice, '--squad', squad, '--seed', '5', '--json').out).toBe(out);
  });

  it('goes faster than a clock when asked to, and keeps the database where it is told', () => {
    const data = join(folder, 'kept');
    const one = file('one.txt', 'Main\n25 free @ :30 at 200 pace\n');
    const { status, out, err } = rehearse(one, '--squad', squad, '--speed', '50', '--data', data, '--json');
    expect(err).toMatch(/To watch: http:\/\/127\.0\.0\.1:\d+\/pair#code=/);
    expect(status).toBe(0);
    expect(rehearsalReportSchema.parse(JSON.parse(out)).finished).toBe(true);
    const opened = openStore(data);
    if (!opened.ok) throw new Error(opened.message);
    expect(opened.store.runList.page(10, null).runs).toMatchObject([{ rehearsed: true, times: 1 }]);
    opened.store.close();
  });

  it('rehearses on another day, beside the rehearsals before', () => {
    const data = join(folder, 'kept');
    const { status } = rehearse(practice, '--squad', squad, '--data', data, '--at', '2027-03-09 06:30');
    expect(status).toBe(0);
    const opened = openStore(data);
    if (!opened.ok) throw new Error(opened.message);
    const { runs } = opened.store.runList.page(10, null);
    opened.store.close();
    expect(runs).toHaveLength(2);
    expect(runs.every(({ rehearsed }) => rehearsed)).toBe(true);
    expect(runs.map(({ loadedAt }) => loadedAt)).toContain(new Date('2027-03-09T06:30').getTime());
  });

  it('never puts a rehearsal into a database that holds anything else', () => {
    const data = join(folder, 'season');
    const opened = openStore(data);
    if (!opened.ok) throw new Error(opened.message);
    opened.store.close();
    const { status, err } = rehearse(practice, '--squad', squad, '--data', data);
    expect(status).toBe(1);
    expect(err).toMatch(/holds a pool of its own: name a new folder, or one with rehearsals only/);
  });

  it('explains itself', () => {
    const { status, out } = rehearse('--help');
    expect(status).toBe(0);
    for (const flag of ['--squad', '--speed', '--seed', '--data', '--port', '--json']) expect(out).toContain(flag);
  });

  it.each(MISTAKES)('says in one sentence what is wrong with %s', (_, args, message) => {
    const { status, out, err } = rehearse(...args);
    expect(err).toMatch(message);
    expect(err.trim().split('\n')).toHaveLength(1);
    expect(out).toBe('');
    expect(status).toBe(1);
  });
});
