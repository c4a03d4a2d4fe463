import { expect, test } from 'vitest';
import { laneNumber } from '../../shared-types/brand.ts';
import { answerSchema } from '../../shared-types/commands.ts';
import type { Run } from '../../shared-types/events.ts';
import { everybodyIn, sheetSchema } from '../../shared-types/sheet.ts';
import { squadAnswerSchema } from '../../shared-types/wire/desk.ts';
import { liveRunSchema } from '../../shared-types/wire/from-server.ts';
import { type Press, type RunningServer, runServer, type TestScreen, withRun } from '../fixtures/running-server.ts';

const CSV = 'swimmer,lane,event,course,time\nCy Odo,,200 free,SCM,2:10.0\n';

async function press(server: RunningServer, deck: TestScreen, run: Pick<Run, 'id' | 'seq'>, what: Press) {
  return answerSchema.parse(await deck.ask('command', deck.command(what, run, server.farwall.clock.now())));
}

async function liveOf(deck: TestScreen): Promise<Run> {
  const hello = await deck.hello();
  if (!hello.ok || !hello.live.run) throw new Error('nothing is on the wall');
  return hello.live.run;
}

async function sheetOf(server: RunningServer, { sheet }: Run) {
  return sheetSchema.parse((await server.ask('GET', `/api/sheets/${sheet}?role=desk`)).body);
}

test('[CMD7] who comes to the squad while a practice is swum can join it, and is still there after a restart', async () => {
  const server = await runServer();
  const run = await withRun(server);
  const [deck, wall] = [server.screen('deck'), server.screen('wall')];
  await Promise.all([deck.hello(), wall.hello()]);
  await press(server, deck, run, { kind: 'start', when: 'now' });
  const squad = await server.ask('PUT', '/api/squad', { body: { csv: CSV, fileName: 'squad.csv' } });
  const [late] = squadAnswerSchema.parse(squad.body).swimmers;
  if (!late) throw new Error('the squad is empty');
  await expect.poll(() => wall.all('run').length).toBe(1);
  const told = liveRunSchema.parse(deck.all('run')[0]);
  expect(told.run).toMatchObject({ id: run.id, seq: 1 });
  // Whoever was there before is still called by name.
  expect(Object.keys(told.labels)).toHaveLength(25);
  expect(told.labels[late.id]).toBe('Cy');

  const change = { kind: 'join', swimmer: late.id, lane: laneNumber(1) } as const;
  expect(await press(server, deck, { ...run, seq: 1 }, { kind: 'change', change })).toEqual({ ok: true, seq: 2 });
  await server.farwall.close();

  const again = await runServer({ folder: server.folder, machine: server.machine });
  const other = again.screen('deck');
  const taken = await liveOf(other);
  const [lane] = (await sheetOf(again, taken)).lanes;
  expect(lane && everybodyIn(lane)).toContain(late.id);
  const out = { kind: 'sitOut', swimmer: late.id } as const;
  expect(await press(again, other, taken, { kind: 'change', change: out })).toEqual({ ok: true, seq: 3 });
});

test('[CMD7] a change reaches every screen as an event with the hash of a sheet that can be fetched', async () => {
  const server = await runServer();
  const run = await withRun(server);
  const [deck, wall] = [server.screen('deck'), server.screen('wall')];
  await Promise.all([deck.hello(), wall.hello()]);
  await press(server, deck, run, { kind: 'start', when: 'now' });
  const [, second] = server.farwall.store.runs.sheet(run.sheet)?.sets ?? [];
  const change = { kind: 'skip', set: second?.key ?? '' } as const;
  expect(await press(server, deck, { ...run, seq: 1 }, { kind: 'change', change })).toEqual({ ok: true, seq: 2 });
  await expect.poll(() => wall.all('event').length).toBe(2);
  const now = await liveOf(server.screen('deck'));
  expect(wall.all('event')[1]).toMatchObject({ kind: 'change', sheet: now.sheet });
  expect(now.sheet).not.toBe(run.sheet);
  expect((await sheetOf(server, now)).lanes).toHaveLength(6);
  // [CMD6] Undone, it is the first sheet again.
  expect(await press(server, deck, now, { kind: 'undo' })).toEqual({ ok: true, seq: 3 });
  expect((await liveOf(server.screen('deck'))).sheet).toBe(run.sheet);
});
