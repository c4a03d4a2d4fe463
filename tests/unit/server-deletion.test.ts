import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { describe, expect, test } from 'vitest';
import { randomId } from '../../server/ids.ts';
import { practiceIdSchema, type RunId, type SwimmerId } from '../../shared-types/brand.ts';
import { DEFAULT_POOL } from '../../shared-types/pool.ts';
import { failureSchema } from '../../shared-types/wire/from-server.ts';
import { formerSchema, storedOfSchema, swimmerExportSchema } from '../../shared-types/wire/privacy.ts';
import { resultsAnswerSchema } from '../../shared-types/wire/results.ts';
import type { HandMachineClock } from '../fixtures/machine-clock.ts';
import type { RunningServer } from '../fixtures/running-server.ts';
import { filesWith } from '../fixtures/stored-bytes.ts';
import { SwumOnServer } from '../fixtures/swum-on-server.ts';

const NAME = 'Zora Quillfeather';
const SQUAD_CSV = `swimmer,short,lane,event,course,time
${NAME},Zoozoo,1,200 free,SCM,2:00.00
Bo Tarn,,1,200 free,SCM,2:10.00
`;
const TEXT = 'Main: power\n2 x 50 free @ 2:00 with pulley 12 kg max\n';
const WHOLE = { practiceText: TEXT, squadCsv: SQUAD_CSV, pool: { ...DEFAULT_POOL, lanes: 2 } };

const pathOf = (swimmer: SwimmerId, what = 'stored'): string => `/api/squad/swimmers/${swimmer}/${what}`;

/** Two have swum, were timed and pulled; the practice is finished and on the wall. */
async function swum(): Promise<SwumOnServer> {
  const swum = await SwumOnServer.after(10, WHOLE);
  await swum.take({ swimmer: NAME, step: '2.0.0.1', seconds: 31.25 });
  await swum.take({ swimmer: NAME, step: '2.0.0.2', seconds: 32.75 });
  await swum.take({ swimmer: 'Bo Tarn', step: '2.0.0.1', seconds: 35 });
  await swum.putLoads(NAME, [{ step: '2.0.0.1', load: { kg: 11 } }]);
  await swum.server.ask('PUT', '/api/squad/absences', { body: { swimmer: swum.id(NAME), isAway: true } });
  await finish(swum.server);
  await swum.results();
  return swum;
}

async function finish(server: RunningServer<HandMachineClock>): Promise<void> {
  const run = server.farwall.keeper.run;
  const deck = server.screen('deck');
  await deck.hello();
  if (run) await deck.ask('command', deck.command({ kind: 'finish' }, run, server.farwall.clock.now()));
}

const deleteForGood = (server: RunningServer, swimmer: SwimmerId) => server.ask('DELETE', pathOf(swimmer));

const backupsIn = ({ folder }: RunningServer): string[] => readdirSync(join(folder, 'backups'));

const resultsOf = async (server: RunningServer, run: RunId) =>
  resultsAnswerSchema.parse((await server.ask('GET', `/api/runs/${run}/results?role=desk`)).body);

describe('a swimmer who is deleted for good', () => {
  test('is told first: what is stored, and which practices mention the name', async () => {
    const { server, id } = await swum().then((one) => ({ server: one.server, id: one.id(NAME) }));
    const text = '# For Zora\n\n100 free easy\n';
    await server.ask('PUT', `/api/practices/${practiceIdSchema.parse(randomId())}`, { body: { text, baseVersion: 0 } });
    const stored = storedOfSchema.parse((await server.ask('GET', pathOf(id))).body);
    expect(stored).toMatchObject({ name: NAME, references: 1, practices: 1, times: 2, loads: 1 });
    expect(stored.mentions).toMatchObject([{ title: 'For Zora', isInLibrary: true }]);
    const deleted = await deleteForGood(server, id);
    expect(storedOfSchema.parse(deleted.body)).toEqual(stored);
    // Texts are the coach's.
    expect(server.farwall.store.practices.list().map(({ title }) => title)).toContain('For Zora');
  });

  test('leaves no byte of the name in any file, and the next backup takes the place of all older ones', async () => {
    const swam = await swum();
    const { server } = swam;
    await server.farwall.backups.take();
    await server.farwall.backups.take();
    expect(filesWith(server.folder, 'Quillfeather').length).toBeGreaterThan(2);
    expect((await deleteForGood(server, swam.id(NAME))).status).toBe(200);
    await expect.poll(() => filesWith(server.folder, 'Quillfeather')).toEqual([]);
    expect(filesWith(server.folder, 'Zoozoo')).toEqual([]);
    expect(backupsIn(server)).toHaveLength(1);
    await server.farwall.close();
    expect(filesWith(server.folder, 'Quillfeather')).toEqual([]);
  });

  test('also when a backup is just being made', async () => {
    const swam = await swum();
    const { server } = swam;
    const taking = [server.farwall.backups.take(), server.farwall.backups.take()];
    await deleteForGood(server, swam.id(NAME));
    await Promise.all(taking);
    await expect.poll(() => filesWith(server.folder, 'Quillfeather')).toEqual([]);
    expect(server.farwall.store.erasure.isUnswept()).toBe(false);
    expect(server.logged).toEqual([]);
  });

  test('also where the name was changed before, or the squad was loaded anew from a file named after them', async () => {
    const swam = await swum();
    const { server } = swam;
    const csv = SQUAD_CSV.replace('2:00.00', '1:59.00');
    await server.ask('PUT', '/api/squad', { body: { csv, fileName: 'zora-quillfeather.csv' } });
    const before = server.farwall.store.squad.squad().swimmers.find(({ name }) => name === NAME);
    if (!before) throw new Error('is in the squad');
    const swimmer = { ...before, name: 'Zora Ordway' };
    await server.ask('PUT', `/api/squad/swimmers/${before.id}`, { body: { swimmer, instead: before } });
    await deleteForGood(server, before.id);
    await expect.poll(() => filesWith(server.folder, 'Quillfeather')).toEqual([]);
    expect(filesWith(server.folder, 'quillfeather.csv')).toEqual([]);
    expect(filesWith(server.folder, 'Ordway')).toEqual([]);
    expect(server.farwall.store.squad.beforeLoad()?.squad.swimmers.map(({ name }) => name)).toEqual(['Bo Tarn']);
  });

  test('is nowhere under their id but on sheets, also when a tablet sends late what it has kept', async () => {
    const swam = await swum();
    const { server } = swam;
    const id = swam.id(NAME);
    await deleteForGood(server, id);
    await expect(swam.take({ swimmer: NAME, step: '2.0.0.2', seconds: 40 })).rejects.toThrow('deleted for good');
    await server.farwall.keeper.history.upToDate(null);
    await server.farwall.close();
    const raw = new DatabaseSync(join(server.folder, 'farwall.db'));
    const tables = raw.prepare("SELECT name FROM sqlite_schema WHERE type = 'table'").all();
    const holding = tables.flatMap(({ name }) => {
      const rows = raw.prepare(`SELECT * FROM "${String(name)}"`).all();
      return rows.some((row) => JSON.stringify(row).includes(id)) ? [String(name)] : [];
    });
    raw.close();
    // As a key of the labels, so that results say that somebody was deleted.
    expect(holding).toEqual(['runs', 'deletions']);
  });

  test('is called a deleted swimmer by results of before, which still open and have no times of theirs', async () => {
    const swam = await swum();
    const { server, run } = swam;
    await deleteForGood(server, swam.id(NAME));
    const { labels, sets, run: summary } = await resultsOf(server, run);
    expect(labels[swam.id(NAME)]).toBe('deleted swimmer');
    expect(labels[swam.id('Bo Tarn')]).toBe('Bo Tarn');
    const timesOf = (name: string) =>
      sets[0]?.swimmers.find(({ swimmer }) => swimmer === swam.id(name))?.reps.map(({ ms }) => ms);
    expect(timesOf(NAME)).toEqual([null, null]);
    expect(timesOf('Bo Tarn')).toEqual([35_000, null]);
    expect(summary.times).toBe(1);
    const csv = await server.ask('GET', `/api/runs/${run}/results.csv`);
    expect(csv.bytes.toString()).not.toContain('31.25');
    expect(server.logged).toEqual([]);
  });

  test('keeps nobody from timing late, and the numbering of marks has no gap', async () => {
    const swam = await swum();
    await deleteForGood(swam.server, swam.id(NAME));
    await swam.take({ swimmer: 'Bo Tarn', step: '2.0.0.2', seconds: 36 });
    const seqs = swam.server.farwall.store.marks.eventsOf(swam.run).map(({ seq }) => seq);
    expect(seqs).toEqual([1, 2, 3, 4]);
    expect((await swam.resultsOf('Bo Tarn')).reps.map(({ ms }) => ms)).toEqual([35_000, 36_000]);
  });

  test('is not brought back by an undo of some desk', async () => {
    const swam = await swum();
    const { server } = swam;
    const swimmer = server.farwall.store.squad.squad().swimmers.find(({ name }) => name === NAME);
    if (!swimmer) throw new Error('is in the squad');
    await deleteForGood(server, swimmer.id);
    const back = await server.ask('PUT', `/api/squad/swimmers/${swimmer.id}`, { body: { swimmer, instead: null } });
    expect([back.status, failureSchema.parse(back.body).code]).toEqual([409, 'deleted-for-good']);
  });

  test('may have been taken out of the squad before', async () => {
    const swam = await swum();
    const { server } = swam;
    const former = async () => formerSchema.parse((await server.ask('GET', '/api/squad/former')).body).swimmers;
    expect(await former()).toEqual([]);
    await server.ask('DELETE', `/api/squad/swimmers/${swam.id(NAME)}`);
    expect((await former()).map(({ name }) => name)).toEqual([NAME]);
    await deleteForGood(server, swam.id(NAME));
    expect(await former()).toEqual([]);
    await expect.poll(() => filesWith(server.folder, 'Quillfeather')).toEqual([]);
    expect((await deleteForGood(server, swam.id(NAME))).status).toBe(404);
  });

  test('is not deleted while a practice is on the wall that is not over', async () => {
    const swam = await SwumOnServer.after(1, WHOLE);
    const asked = await swam.server.ask('GET', pathOf(swam.id(NAME)));
    const refused = await deleteForGood(swam.server, swam.id(NAME));
    for (const { status, body } of [asked, refused]) {
      const { message } = failureSchema.parse(body);
      expect([status, message]).toEqual([409, 'A practice is on the wall and not over; nobody was deleted.']);
    }
    expect(swam.server.farwall.store.squad.squad().swimmers).toHaveLength(2);
  });

  test('is told to all desks, and decks show the finished practice without the name', async () => {
    const swam = await swum();
    const [desk, deck] = [swam.server.screen('desk'), swam.server.screen('deck')];
    await Promise.all([desk.hello(), deck.hello()]);
    await deleteForGood(swam.server, swam.id(NAME));
    await expect.poll(() => desk.all('changed')).toEqual([{ what: 'squad' }]);
    expect(JSON.stringify(deck.all('run'))).toContain('"deleted"');
    expect(JSON.stringify(deck.all('run'))).not.toContain('Zoozoo');
  });
});

describe('the export of a swimmer', () => {
  test('has everything that is stored of them, and nothing of anybody else', async () => {
    const swam = await swum();
    const reply = await swam.server.ask('GET', pathOf(swam.id(NAME), 'export'));
    expect(reply.headers['content-disposition']).toBe(
      'attachment; filename="swimmer-zora-quillfeather-2027-01-15.json"',
    );
    const stored = swimmerExportSchema.parse(reply.body);
    expect(stored).toMatchObject({
      name: NAME,
      swimmer: { short: 'Zoozoo', lane: 1, references: [{ timeMs: 120_000, kind: 'best' }] },
      practices: [
        {
          rehearsed: false,
          sets: [{ words: '2 × 50 free', reps: [{ ms: 31_250 }, { ms: 32_750 }] }],
          marks: [
            { ms: 31_250, state: 'counts' },
            { ms: 32_750, state: 'counts' },
          ],
        },
      ],
    });
    expect(stored.tables.loads).toMatchObject([{ loads: [{ load: { kg: 11 } }] }]);
    expect(stored.tables.absences).toMatchObject([{ day: '2027-01-15' }]);
    expect(stored.tables.kept_sets).toMatchObject([{ best_ms: 31_250 }]);
    expect(reply.bytes.toString()).not.toContain('Tarn');
  });

  test('of somebody who is not stored is refused', async () => {
    const swam = await swum();
    const refused = await swam.server.ask('GET', `/api/squad/swimmers/${randomId()}/export`);
    expect(refused.status).toBe(404);
  });
});
