import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import Papa from 'papaparse';
import { describe, expect, test } from 'vitest';
import { randomId } from '../../server/ids.ts';
import { readSquadCsv } from '../../server/planning/squad-csv.ts';
import { storedPracticeSchema } from '../../shared-types/wire/desk.ts';
import { foundAnswerSchema } from '../../shared-types/wire/library.ts';
import { cellOf, HOSTILE_TEXTS as NAMED } from '../fixtures/hostile-texts.ts';
import { type RunningServer, runServer } from '../fixtures/running-server.ts';
import { temporaryFolder } from '../fixtures/temporary-folder.ts';

const HOSTILE_TEXTS = [...NAMED.map(({ text }) => text), 'Line\r\nX-Injected: 1'];

const CSV = [
  'swimmer,lane,event,course,time',
  ...HOSTILE_TEXTS.map((name, nth) => `${cellOf(name)},${(nth % 6) + 1},200 free,SCM,2:${String(nth + 10)}.00`),
].join('\n');

/** ECMA-48: controls, but for the line ends and tabs of a table; and the direction overrides of UAX #9. */
const OBEYED = /(?![\n\t])[\p{Cc}\u202a-\u202e\u2066-\u2069]/u;

const load = (server: RunningServer) =>
  server.ask('PUT', '/api/squad', { body: { csv: CSV, fileName: HOSTILE_TEXTS.join('').slice(0, 200) } });

describe('hostile names', () => {
  test('in the squad’s export are no formulas (CWE-1236), and load again to the same', async () => {
    const server = await runServer();
    expect((await load(server)).status).toBe(200);
    const exported = (await server.ask('GET', '/api/squad.csv')).bytes.toString();
    const cells = Papa.parse<string[]>(exported.replace('\ufeff', '')).data.flat();
    for (const cell of cells) expect(cell).not.toMatch(/^[=+\-@\t\r]/);
    const again = readSquadCsv(exported, randomId);
    expect(again.problems).toEqual([]);
    const before = readSquadCsv(CSV, randomId).squad.swimmers.map(({ name }) => name);
    expect(again.squad.swimmers.map(({ name }) => name).sort()).toEqual(before.sort());
    expect(before).toHaveLength(HOSTILE_TEXTS.length);
  });

  test('reach no header and no line of the log, and leave the database as it is', async () => {
    const server = await runServer();
    await load(server);
    const { headers } = await server.ask('GET', '/api/squad.csv');
    expect(headers['content-disposition']).toMatch(/^attachment; filename="squad-\d{4}-\d\d-\d\d\.csv"$/);
    expect(headers['x-injected']).toBeUndefined();
    expect(server.logged).toEqual([]);
    expect((await load(server)).status).toBe(200);
  });
});

describe('hostile practices', () => {
  const text = (nth: number): string =>
    `# ${HOSTILE_TEXTS[nth]}\n\nMain set\n4 x 50 free @ 1:00 -- ${HOSTILE_TEXTS[nth]}\n`;

  test('are kept as written, and found by the signs in them, which mean nothing to the database', async () => {
    const server = await runServer();
    for (const [nth] of HOSTILE_TEXTS.entries()) {
      const path = `/api/practices/${randomId()}`;
      const saved = await server.ask('PUT', path, { body: { text: text(nth), baseVersion: 0 } });
      expect(storedPracticeSchema.parse(saved.body)).toMatchObject({ text: text(nth).toWellFormed() });
      expect(storedPracticeSchema.parse(saved.body).title).not.toMatch(OBEYED);
    }
    const found = async (words: string) => {
      const { body } = await server.ask('GET', `/api/practices/search?text=${encodeURIComponent(words)}`);
      return foundAnswerSchema.parse(body).practices.length;
    };
    expect(await found('%s')).toBe(1);
    expect(await found('_')).toBe(1);
    expect(await found("'); DROP")).toBe(1);
  });
});

describe('the commands', () => {
  const run = (script: string, ...args: string[]): string => {
    const command = [resolve(import.meta.dirname, '../../server', script), ...args];
    const { stdout, stderr } = spawnSync(process.execPath, command, { encoding: 'utf8' });
    return stdout + stderr;
  };

  test.for(HOSTILE_TEXTS)('print no sign that a terminal would obey: %s', (words) => {
    const folder = temporaryFolder();
    const file = (name: string, content: string): string => {
      const path = join(folder, name);
      writeFileSync(path, content);
      return path;
    };
    const squad = file('squad.csv', CSV);
    const good = file('good.txt', `# ${words}\n\nMain set: race pace\n4 x 50 free @ 1:00 at 200 pace -- ${words}\n`);
    const bad = file('bad.txt', `# ${words}\n\nMain\n4 x ${words} @ 1;30\n${words}\n`);
    const badSquad = file('bad.csv', `swimmer,event,course,time\n${cellOf(words)},${cellOf(words)},SCM,2:00.0\n`);
    const printed = [
      run('sheet-command.ts', good, '--squad', squad),
      run('sheet-command.ts', bad, '--squad', squad),
      run('sheet-command.ts', good, '--squad', badSquad),
      run('lanes-command.ts', '--squad', squad, '--event', '200 free'),
    ];
    for (const output of printed) {
      expect(output.length).toBeGreaterThan(20);
      expect(output).not.toMatch(OBEYED);
    }
  });
});
