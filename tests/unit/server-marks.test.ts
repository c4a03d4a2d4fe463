import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { describe, expect, test } from 'vitest';
import { randomId } from '../../server/ids.ts';
import {
  type CommandId,
  commandIdSchema,
  instant,
  practiceIdSchema,
  runIdSchema,
  swimmerIdSchema,
} from '../../shared-types/brand.ts';
import { type Answer, answerSchema } from '../../shared-types/commands.ts';
import type { Run } from '../../shared-types/events.ts';
import {
  foldMarks,
  type Mark,
  type MarkCommand,
  markEventSchema,
  marksOf,
  NO_MARKS,
} from '../../shared-types/marks.ts';
import type { RepStep, SheetLane } from '../../shared-types/sheet.ts';
import { failureSchema, liveRunSchema } from '../../shared-types/wire/from-server.ts';
import { departuresAnswerSchema, marksAnswerSchema } from '../../shared-types/wire/marks.ts';
import { MOST_MESSAGE_BYTES } from '../../shared-types/wire/protocol.ts';
import { runsAnswerSchema } from '../../shared-types/wire/results.ts';
import type { Without } from '../../shared-types/without.ts';
import type { HandMachineClock } from '../fixtures/machine-clock.ts';
import {
  type Press,
  type RunningServer,
  runServer,
  type TestScreen,
  withDemo,
  withRun,
} from '../fixtures/running-server.ts';

type Marking = Without<MarkCommand, 'id' | 'device' | 'run'>;

const HOUR_MS = 3_600_000;

/** A practice on the wall that was started just now, with a deck to take times of it. */
interface Practice {
  readonly server: RunningServer<HandMachineClock>;
  readonly run: Run;
  readonly deck: TestScreen;
  readonly lane: SheetLane;
  readonly rep: RepStep;
}

async function practice(): Promise<Practice> {
  const server = await runServer();
  const run = await withRun(server);
  const deck = server.screen('deck');
  await deck.hello();
  await press(deck, run, { kind: 'start', when: 'now' }, server.farwall.clock.now());
  const lane = server.farwall.store.runs.sheet(run.sheet)?.lanes[0];
  const rep = lane?.steps.find((step) => step.kind === 'rep');
  if (!lane || !rep) throw new Error('the demo has lanes that swim');
  return { server, run, deck, lane, rep };
}

async function press(deck: TestScreen, run: Run, pressed: Press, at: number): Promise<void> {
  expect(await deck.ask('command', deck.command(pressed, run, at))).toMatchObject({ ok: true });
}

const commandOf = (deck: TestScreen, run: Pick<Run, 'id'>, marking: Marking): MarkCommand => ({
  ...marking,
  id: commandIdSchema.parse(randomId()),
  device: deck.device,
  run: run.id,
});

type Finish = Extract<Marking, { kind: 'mark' }>;

/** A finish of the lane's first swimmer on the first rep, now. */
function finish({ server, lane, rep }: Practice, more: Partial<Finish> = {}): Finish {
  const [swimmer] = lane.swimmers;
  if (!swimmer) throw new Error('nobody swims there');
  const pressedAt = server.farwall.clock.now();
  return { kind: 'mark', swimmer, step: rep.id, pass: 1, distance: rep.distance ?? 0, pressedAt, ...more };
}

const send = async (deck: TestScreen, command: unknown): Promise<Answer> =>
  answerSchema.parse(await deck.ask('mark', command));

/** Sends it and says what id it had. */
async function sent({ deck, run }: Practice, marking: Marking): Promise<CommandId> {
  const command = commandOf(deck, run, marking);
  expect(await send(deck, command)).toMatchObject({ ok: true });
  return command.id;
}

const stored = (server: RunningServer, run: Pick<Run, 'id'>): Mark[] =>
  marksOf(foldMarks(NO_MARKS, server.farwall.store.marks.eventsOf(run.id)));

describe('marks over the wire', () => {
  test("[CMD5] a mark is stored with the swimmer's send-off, and decks and desks hear of it, walls do not", async () => {
    const here = await practice();
    const { server, run, lane } = here;
    const [wall, desk] = [server.screen('wall'), server.screen('desk')];
    await Promise.all([wall.hello(), desk.hello()]);
    const leftAt = server.farwall.clock.now();
    server.machine.pass(29_600);
    await sent(here, finish(here));
    const told = { lane: lane.lane, swimmer: lane.swimmers[0], leftAt, ms: 29_600, state: 'counts' };
    expect(stored(server, run)).toMatchObject([told]);
    for (const screen of [here.deck, desk]) {
      await expect.poll(() => screen.all('mark')).toHaveLength(1);
      const events = screen.all('mark').map((event) => markEventSchema.parse(event));
      expect(marksOf(foldMarks(NO_MARKS, events))).toMatchObject([told]);
    }
    await wall.ask('sync', { askedAt: 1 });
    expect(wall.all('mark')).toEqual([]);
    expect(await wall.hello()).not.toHaveProperty('markSeq');
    expect(await desk.hello()).toMatchObject({ markSeq: 1 });
  });

  test('[CMD5] who was missed is stored as such, told to other decks, and no time in the list of practices', async () => {
    const here = await practice();
    const { server, run, lane } = here;
    const other = server.screen('deck');
    await other.hello();
    server.machine.pass(31_000);
    const timesOf = async () =>
      runsAnswerSchema.parse((await server.ask('GET', '/api/runs')).body).runs.map(({ times }) => times);
    const mark = await sent(here, { ...finish(here), kind: 'miss' });
    expect(stored(server, run)).toMatchObject([
      { lane: lane.lane, swimmer: lane.swimmers[0], ms: null, state: 'missed' },
    ]);
    await expect.poll(() => other.all('mark')).toMatchObject([{ kind: 'miss', mark }]);
    expect(await timesOf()).toEqual([0]);
    await sent({ ...here, deck: other }, { kind: 'void', mark });
    await sent({ ...here, deck: other }, { kind: 'restore', mark });
    expect(stored(server, run)).toMatchObject([{ state: 'missed' }]);
    expect(await timesOf()).toEqual([0]);
    await sent(here, finish(here));
    expect(await timesOf()).toEqual([1]);
  });

  test('[CMD1] a mark sent ten times is stored once and gets one answer, after a restart as well', async () => {
    const { server, run, deck, ...rest } = await practice();
    server.machine.pass(30_000);
    const command = commandOf(deck, run, finish({ server, run, deck, ...rest }));
    const answers = await Promise.all(Array.from({ length: 10 }, () => send(deck, command)));
    expect(new Set(answers.map((answer) => JSON.stringify(answer)))).toEqual(new Set(['{"ok":true,"seq":1}']));
    await server.farwall.close();
    const again = await runServer({ folder: server.folder, machine: server.machine });
    const other = again.screen('deck');
    expect(await other.hello()).toMatchObject({ markSeq: 1 });
    expect(await send(other, command)).toEqual({ ok: true, seq: 1 });
    expect(stored(again, run)).toMatchObject([{ ms: 30_000, state: 'counts' }]);
  });

  test('[CMD5] two tablets that mark the same are both kept, and the earlier stored counts', async () => {
    const here = await practice();
    const other = here.server.screen('deck');
    await other.hello();
    here.server.machine.pass(30_000);
    await sent(here, finish(here));
    here.server.machine.pass(100);
    await sent({ ...here, deck: other }, finish(here));
    expect(stored(here.server, here.run).map(({ device, state }) => [device, state])).toEqual([
      [here.deck.device, 'counts'],
      [other.device, 'second'],
    ]);
  });

  test('[CMD5] a mark is placed hours later, whatever happened since', async () => {
    const here = await practice();
    const { server, run, deck } = here;
    server.machine.pass(31_000);
    const marking = finish(here);
    await press(deck, { ...run, seq: 1 }, { kind: 'back', when: 'now' }, server.farwall.clock.now());
    server.machine.pass(40_000);
    const second = finish(here, { pass: 2 });
    server.machine.pass(11 * HOUR_MS);
    await sent(here, second);
    await sent(here, marking);
    expect(stored(server, run).map(({ ms, pass }) => [pass, ms])).toEqual([
      [2, 40_000],
      [1, 31_000],
    ]);
  });

  test('[CMD5] only after twelve hours it is refused', async () => {
    const here = await practice();
    here.server.machine.pass(30_000);
    const command = commandOf(here.deck, here.run, finish(here));
    here.server.machine.pass(12 * HOUR_MS + 1);
    expect(await send(here.deck, command)).toMatchObject({ ok: false, code: 'stale' });
    expect(stored(here.server, here.run)).toEqual([]);
  });

  test('[CMD5] what fits no send-off is stored as unplaced, and assigned later', async () => {
    const here = await practice();
    const { server, run, deck, lane } = here;
    const early = commandOf(deck, run, finish(here, { pressedAt: instant(server.farwall.clock.now() - 500) }));
    server.machine.pass(30_000);
    const strangers = [
      finish(here, { pass: 2 }),
      finish(here, { step: '99.9.9.9' }),
      finish(here, { swimmer: swimmerIdSchema.parse(randomId()) }),
    ];
    expect(await send(deck, early)).toMatchObject({ ok: true });
    const ids: CommandId[] = [];
    for (const marking of strangers) ids.push(await sent(here, marking));
    expect(stored(server, run).map(({ state }) => state)).toEqual(Array.from({ length: 4 }, () => 'unplaced'));
    expect(stored(server, run).map((mark) => mark.lane)).toEqual([lane.lane, lane.lane, lane.lane, null]);
    const { swimmer, step, pass, distance } = finish(here);
    const mark = ids[2] ?? early.id;
    await sent(here, { kind: 'assign', mark, swimmer, step, pass, distance });
    expect(stored(server, run)[3]).toMatchObject({ state: 'counts', ms: 30_000, lane: lane.lane });
  });

  test('[CMD6] a mark at any time is taken back and restored', async () => {
    const here = await practice();
    const { server, run } = here;
    server.machine.pass(30_000);
    const mark = await sent(here, finish(here));
    server.machine.pass(5 * HOUR_MS);
    await sent(here, { kind: 'void', mark });
    expect(stored(server, run)).toMatchObject([{ state: 'void' }]);
    await sent(here, { kind: 'void', mark });
    expect(server.farwall.store.marks.eventsOf(run.id)).toHaveLength(2);
    await sent(here, { kind: 'restore', mark });
    expect(stored(server, run)).toMatchObject([{ state: 'counts', ms: 30_000 }]);
    const again = commandOf(here.deck, run, { kind: 'restore', mark });
    expect(await send(here.deck, again)).toMatchObject({ ok: false, code: 'not-now' });
    const unknown = commandOf(here.deck, run, { kind: 'void', mark: commandIdSchema.parse(randomId()) });
    expect(await send(here.deck, unknown)).toMatchObject({ ok: false, code: 'unknown-mark' });
  });

  test('[CMD5] a mark for a practice that is no longer on the wall is stored with its send-off', async () => {
    const here = await practice();
    const { server, run, deck } = here;
    server.machine.pass(30_000);
    const marking = finish(here);
    const [other] = server.farwall.store.practices.list();
    const body = { practice: other?.id, version: 1, replace: true };
    expect((await server.ask('POST', '/api/runs', { body })).status).toBe(200);
    await sent(here, marking);
    expect(stored(server, run)).toMatchObject([{ state: 'counts', ms: 30_000 }]);
    expect(await deck.hello()).toMatchObject({ markSeq: 0 });
  });

  test('[CMD5] a practice the server has never had, and what is no mark, are refused', async () => {
    const here = await practice();
    const nowhere = commandOf(here.deck, { id: runIdSchema.parse(randomId()) }, finish(here));
    expect(await send(here.deck, nowhere)).toMatchObject({ ok: false, code: 'no-run' });
    const odd = { ...commandOf(here.deck, here.run, finish(here)), pass: 0 };
    expect(failureSchema.parse(await here.deck.ask('mark', odd))).toMatchObject({ code: 'bad-message', place: 'pass' });
    const wall = here.server.screen('wall');
    expect(await wall.ask('mark', commandOf(wall, here.run, finish(here)))).toMatchObject({ code: 'not-allowed' });
    await wall.hello();
    expect(await wall.ask('mark', commandOf(wall, here.run, finish(here)))).toMatchObject({ code: 'not-allowed' });
  });
});

/** A practice that the coach releases, with the first mark of its only lane and the go behind it. */
async function released(): Promise<Practice & { readonly mark: CommandId }> {
  const server = await runServer();
  await withDemo(server);
  const id = practiceIdSchema.parse(randomId());
  const text = 'Main set\n2 x 50 free on go\n';
  await server.ask('PUT', `/api/practices/${id}`, { body: { text, baseVersion: 0 } });
  const body = { practice: id, version: 1, replace: false };
  const { run } = liveRunSchema.parse((await server.ask('POST', '/api/runs', { body })).body);
  const lane = run && server.farwall.store.runs.sheet(run.sheet)?.lanes[0];
  const [, rep] = lane?.steps.filter((step) => step.kind === 'rep') ?? [];
  if (!run || !lane || !rep) throw new Error('the practice swims');
  const deck = server.screen('deck');
  await deck.hello();
  await press(deck, run, { kind: 'start', when: 'now' }, server.farwall.clock.now());
  server.machine.pass(60_000);
  await press(deck, { ...run, seq: 1 }, { kind: 'go', gate: 1, when: 'now' }, server.farwall.clock.now());
  server.machine.pass(1500);
  const here = { server, run, deck, lane, rep };
  return { ...here, mark: await sent(here, finish(here)) };
}

describe('a false start', () => {
  test('[CMD2] the marks of a go that is recalled are void, and may be placed on the next', async () => {
    const here = await released();
    const { server, run, deck, mark } = here;
    expect(stored(server, run)).toMatchObject([{ state: 'counts', ms: 1500 }]);
    await press(deck, { ...run, seq: 2 }, { kind: 'recall' }, server.farwall.clock.now());
    expect(stored(server, run)).toMatchObject([{ state: 'void' }]);
    await expect.poll(() => deck.all('mark')).toHaveLength(2);
    expect(markEventSchema.parse(deck.all('mark')[1])).toMatchObject({ kind: 'void', mark, recall: 3 });
    await sent(here, { kind: 'restore', mark });
    expect(stored(server, run)).toMatchObject([{ state: 'unplaced' }]);
    await press(deck, { ...run, seq: 3 }, { kind: 'go', gate: 1, when: 'now' }, server.farwall.clock.now());
    server.machine.pass(31_000);
    await sent(here, finish(here));
    expect(stored(server, run).map(({ state, ms }) => [state, ms])).toEqual([
      ['unplaced', null],
      ['counts', 31_000],
    ]);
  });

  test('[CMD2] a server killed between the recall and its marks makes them void once a deck is there again', async () => {
    const { server, run, deck } = await released();
    await press(deck, { ...run, seq: 2 }, { kind: 'recall' }, server.farwall.clock.now());
    await server.farwall.close();
    const database = new DatabaseSync(join(server.folder, 'farwall.db'));
    database.exec('DELETE FROM mark_events WHERE seq = 2');
    database.close();
    const again = await runServer({ folder: server.folder, machine: server.machine });
    expect(stored(again, run)).toMatchObject([{ state: 'counts' }]);
    // What every deck asks for first.
    await again.ask('GET', `/api/runs/${run.id}/departures`);
    expect(stored(again, run)).toMatchObject([{ state: 'void' }]);
  });
});

describe('catching up', () => {
  test('[CMD5] marks come in answers of less than 64 KB until the last', async () => {
    const here = await practice();
    const { server, run } = here;
    server.machine.pass(30_000);
    await Promise.all(Array.from({ length: 250 }, () => sent(here, finish(here))));
    let book = NO_MARKS;
    let last = 250;
    while (book.seq < last) {
      const reply = await server.ask('GET', `/api/runs/${run.id}/marks?after=${book.seq}`);
      expect(reply.bytes.length).toBeLessThan(MOST_MESSAGE_BYTES);
      const answer = marksAnswerSchema.parse(reply.body);
      book = foldMarks(book, answer.events);
      last = answer.last;
    }
    expect(book.entries.size).toBe(250);
    expect((await server.ask('GET', `/api/runs/${randomId()}/marks`)).status).toBe(404);
    expect((await server.ask('GET', `/api/runs/${run.id}/marks?after=-1`)).status).toBe(400);
  });

  test('[CMD5] departures are those of the last hour, say which event they know of, and what to ask for the hour before with', async () => {
    const here = await practice();
    const { server, run, lane } = here;
    const leftAt = server.farwall.clock.now();
    server.machine.pass(1000);
    const ask = async () =>
      departuresAnswerSchema.parse((await server.ask('GET', `/api/runs/${run.id}/departures`)).body);
    const soon = await ask();
    expect(soon).toMatchObject({ seq: 1, until: leftAt + 1000 });
    expect(soon.departures).toContainEqual({
      swimmer: lane.swimmers[0],
      lane: 1,
      step: here.rep.id,
      pass: 1,
      at: leftAt,
    });
    server.machine.pass(HOUR_MS);
    const late = await ask();
    expect(late.departures.filter(({ at }) => at < leftAt + 1000)).toEqual([]);
    const path = `/api/runs/${run.id}/departures?before=`;
    const before = departuresAnswerSchema.parse((await server.ask('GET', `${path}${late.earlier}`)).body);
    expect(before.departures.filter(({ at }) => at <= leftAt)).toEqual(
      soon.departures.filter(({ at }) => at <= leftAt),
    );
    expect(before.earlier).toBeUndefined();
    const times = [...before.departures, ...late.departures].map(({ at }) => at);
    expect(times).toEqual(times.toSorted((a, b) => a - b));
    expect((await server.ask('GET', `${path}soon`)).status).toBe(400);
  });
});
