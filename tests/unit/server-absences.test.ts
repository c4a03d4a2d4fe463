import { expect, test } from 'vitest';
import type { SwimmerId } from '../../shared-types/brand.ts';
import { sheetSchema } from '../../shared-types/sheet.ts';
import { absencesSchema } from '../../shared-types/wire/absences.ts';
import { previewSchema, squadAnswerSchema } from '../../shared-types/wire/desk.ts';
import { failureSchema, liveRunSchema } from '../../shared-types/wire/from-server.ts';
import { lanesProposalSchema } from '../../shared-types/wire/lanes.ts';
import { HandMachineClock } from '../fixtures/machine-clock.ts';
import { type RunningServer, runServer, withDemo } from '../fixtures/running-server.ts';

const HOUR_MS = 3_600_000;
/** Wednesday 6 January 2027, 18:00 in Lisbon, where it is winter. */
const WEDNESDAY = Date.UTC(2027, 0, 6, 18);
const TEXT = '8 x 50 free @ 1:30\n';

async function pool() {
  const server = await runServer({ machine: new HandMachineClock({ wallMs: WEDNESDAY }) });
  const [practice] = await withDemo(server);
  const [first] = squadAnswerSchema.parse((await server.ask('GET', '/api/squad')).body).swimmers;
  if (!first || !practice) throw new Error('the demo is empty');
  return { server, first, practice };
}

const set = (server: RunningServer, swimmer: SwimmerId | string, isAway: boolean) =>
  server.ask('PUT', '/api/squad/absences', { body: { swimmer, isAway } });

const awayNow = async ({ ask }: RunningServer) => absencesSchema.parse((await ask('GET', '/api/squad/absences')).body);

async function swimmersOnSheet({ ask }: RunningServer): Promise<readonly SwimmerId[]> {
  const { sheet } = previewSchema.parse((await ask('POST', '/api/preview', { body: { text: TEXT } })).body);
  return sheet?.lanes.flatMap(({ swimmers }) => swimmers) ?? [];
}

test('who is away today is on no sheet, in no proposed lane and not on the wall, but stays in the squad', async () => {
  const { server, first, practice } = await pool();
  expect(await swimmersOnSheet(server)).toContain(first.id);
  expect(absencesSchema.parse((await set(server, first.id, true)).body)).toEqual({
    day: '2027-01-06',
    away: [first.id],
  });
  expect(await swimmersOnSheet(server)).not.toContain(first.id);
  expect(await swimmersOnSheet(server)).toHaveLength(23);
  const question = { event: { distance: 200, stroke: 'free', activity: 'swim' }, course: 'SCM', capacity: 6 };
  const proposal = await server.ask('POST', '/api/preview/lanes', { body: question });
  const placed = lanesProposalSchema.parse(proposal.body).lanes.flatMap(({ swimmers }) => swimmers.map(({ id }) => id));
  expect([placed.length, placed.includes(first.id)]).toEqual([23, false]);
  const put = { practice: practice.id, version: practice.version, replace: false };
  const { run } = liveRunSchema.parse((await server.ask('POST', '/api/runs', { body: put })).body);
  const sheet = sheetSchema.parse((await server.ask('GET', `/api/sheets/${run?.sheet}?role=desk`)).body);
  expect(sheet.lanes.flatMap(({ swimmers }) => swimmers)).not.toContain(first.id);
  expect(squadAnswerSchema.parse((await server.ask('GET', '/api/squad')).body).swimmers[0]).toEqual(first);
});

test('who comes after all is on the sheet again, and can join what is on the wall', async () => {
  const { server, first, practice } = await pool();
  await set(server, first.id, true);
  const put = { practice: practice.id, version: practice.version, replace: false };
  await server.ask('POST', '/api/runs', { body: put });
  const deck = server.screen('deck');
  await deck.hello();
  await set(server, first.id, false);
  expect((await awayNow(server)).away).toEqual([]);
  expect(await swimmersOnSheet(server)).toContain(first.id);
  await expect.poll(() => deck.all('run').length).toBe(1);
  expect(liveRunSchema.parse(deck.all('run')[0]).labels[first.id]).toBeDefined();
});

test('it lasts through a restart until the day is over on the pool’s clock', async () => {
  const { server, first } = await pool();
  await set(server, first.id, true);
  server.machine.pass(5.9 * HOUR_MS);
  expect((await awayNow(server)).away).toEqual([first.id]);
  await server.farwall.close();
  const again = await runServer({ folder: server.folder, machine: server.machine });
  expect((await awayNow(again)).away).toEqual([first.id]);
  again.machine.pass(0.2 * HOUR_MS);
  expect(await awayNow(again)).toEqual({ day: '2027-01-07', away: [] });
  expect(await swimmersOnSheet(again)).toContain(first.id);
});

test('nobody who is not in the squad is away', async () => {
  const { server } = await pool();
  const refused = await set(server, 'f'.repeat(32), true);
  expect([refused.status, failureSchema.parse(refused.body).code]).toEqual([404, 'no-such-swimmer']);
});
