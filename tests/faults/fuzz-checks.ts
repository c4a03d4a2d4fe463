import { expect } from 'vitest';
import { canonicalJson, sheetHash } from '../../server/running/sheet-hash.ts';
import type { RunId } from '../../shared-types/brand.ts';
import type { Departure } from '../../shared-types/departures.ts';
import { foldEvents, newRun } from '../../shared-types/fold.ts';
import { foldMarks, type MarkCommand, NO_MARKS } from '../../shared-types/marks.ts';
import type { FuzzRecord } from './fuzz-record.ts';
import type { FuzzWorld } from './fuzz-world.ts';

/** Everything that must hold once everything has been up again for a while. @throws AssertionError */
export function expectAgreement(world: FuzzWorld, record: FuzzRecord): void {
  expect(world.server.faults, 'what the server took note of').toEqual([]);
  for (const run of record.runs) expectFolds(world, run);
  record.lookAtAllRuns(world);
  expectScreensAgree(world);
  expectCommandsOnce(world, record);
  expectMarksOnce(world, record);
  expectClocksRight(world);
}

/** [FLT1] [RUN2] What is stored makes the run that is at hand. */
function expectFolds({ server: { store, keeper } }: FuzzWorld, id: RunId): void {
  const stored = store.runs.run(id);
  const sheet = stored && store.runs.sheet(stored.hash);
  if (!stored || !sheet) throw new Error(`run ${id} is not stored`);
  const run = foldEvents(newRun(id, stored.hash, sheet, stored.loadedAt), store.runs.eventsOf(id));
  if (keeper.run?.id === id) expect(keeper.run).toEqual(run);
  foldMarks(NO_MARKS, store.marks.eventsOf(id));
}

const inOrder = (departures: readonly Departure[]): string[] =>
  departures.map(({ swimmer, lane, step, pass, at }) => `${at} ${lane} ${swimmer} ${step} #${pass}`).sort();

/** Every screen has what the server has. */
function expectScreensAgree({ server: { keeper, store, clock }, screens }: FuzzWorld): void {
  const { run } = keeper;
  if (!run) throw new Error('nothing is on the wall');
  const now = clock.now();
  const left = inOrder(keeper.marks.departuresOf(run.id)?.departures ?? []);
  const book = foldMarks(NO_MARKS, store.marks.eventsOf(run.id));
  screens.forEach(({ role, link, parts: { storage } }, place) => {
    const which = `screen ${place}, a ${role}`;
    expect(link.state.value, which).toBe('live');
    expect(link.practice.value?.run, which).toEqual(run);
    if (role === 'wall') return;
    expect(sheetHash(canonicalJson(link.practice.value?.sheet)), which).toBe(run.sheet);
    expect(link.times.book.value, `${which}: its marks`).toEqual(book);
    expect(link.times.waiting.value, `${which}: its outbox`).toEqual([]);
    expect(storage.length, `${which}: its storage`).toBe(0);
    expect(inOrder(link.times.departuresAt(now)), `${which}: who left`).toEqual(left);
  });
}

/** [CMD1] [CMD3] [FLT1] What was accepted was stored once, with the seq that was told, and nothing had overtaken it. */
function expectCommandsOnce({ server: { store } }: FuzzWorld, { answered, runs }: FuzzRecord): void {
  const events = runs.flatMap((run) => store.runs.eventsOf(run));
  expect(new Set(events.map(({ command }) => command)).size, 'commands that acted twice').toBe(events.length);
  for (const { command, answer } of answered) {
    if (!answer.ok && answer.code === 'not-stored') continue;
    const acted = events.filter((event) => event.command === command.id);
    expect(acted.map(({ run, seq }) => ({ run, seq }))).toEqual(
      answer.ok ? [{ run: command.run, seq: answer.seq }] : [],
    );
    expect(store.runs.answerTo(command.id)).toEqual(answer);
    if (!answer.ok) continue;
    const between = events.filter(
      ({ run, seq }) => run === command.run && seq > command.basedOnSeq && seq < answer.seq,
    );
    const moves = (kind: string): boolean => kind === 'shift' || kind === 'realign';
    const others = between.filter(
      ({ device, kind }) => device !== command.device && !(moves(kind) && moves(command.kind)),
    );
    expect(others, `${command.kind} ${command.id} was overtaken`).toEqual([]);
  }
}

/** [CMD5] [CMD8] What went into an outbox is stored, once. */
function expectMarksOnce({ server: { store } }: FuzzWorld, { made, runs }: FuzzRecord): void {
  const events = runs.flatMap((run) => store.marks.eventsOf(run));
  const isMade = ({ kind }: Pick<MarkCommand, 'kind'>): boolean => kind === 'mark' || kind === 'miss';
  const marks = events.filter(isMade).map(({ command }) => command);
  expect(new Set(marks).size, 'marks stored twice').toBe(marks.length);
  expect(marks.toSorted()).toEqual(
    made
      .filter(isMade)
      .map(({ id }) => id)
      .toSorted(),
  );
  for (const { id, kind } of made) {
    expect(store.runs.answerTo(id), `${kind} ${id}`).not.toBeNull();
    const acted = events.filter(({ command, kind: did }) => command === id && did === kind);
    expect(acted.length, `${kind} ${id}`).toBeLessThanOrEqual(1);
  }
}

/** [SYN2] The estimate is as right as it says. */
function expectClocksRight({ server: { clock }, screens }: FuzzWorld): void {
  screens.forEach(({ role, page, link }, place) => {
    const bound = link.clock.boundMs();
    const error = Math.abs(page.pressedAt() - clock.now());
    expect(error, `screen ${place}, a ${role}: its clock`).toBeLessThanOrEqual((bound ?? 0) + 0.01);
  });
}
