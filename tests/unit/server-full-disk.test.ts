import { expect, onTestFinished, test } from 'vitest';
import { randomId } from '../../server/ids.ts';
import { WORKING_OUT } from '../../server/results/kept-set.ts';
import { loadingOf } from '../../server/running/loading.ts';
import { RunKeeper } from '../../server/running/run-keeper.ts';
import { openDatabase } from '../../server/store/open-database.ts';
import { storeOn } from '../../server/store/store.ts';
import { type Instant, instant, practiceIdSchema } from '../../shared-types/brand.ts';
import { type Command, commandSchema } from '../../shared-types/commands.ts';
import { type MarkCommand, markCommandSchema } from '../../shared-types/marks.ts';
import { squadSchema } from '../../shared-types/squad.ts';
import { HandMachineClock } from '../fixtures/machine-clock.ts';
import { swimmer } from '../fixtures/planning.ts';
import { Season } from '../fixtures/swum-season.ts';
import { temporaryFolder } from '../fixtures/temporary-folder.ts';

const NOW = instant(1_800_000_000_000);

/** A practice on the wall, and a disk whose room can be taken away and given back. */
function practiceOnSmallDisk() {
  const opened = openDatabase(temporaryFolder());
  if (!opened.ok) throw new Error(opened.message);
  const { database } = opened;
  onTestFinished(() => database.close());
  const store = storeOn(database);
  const keeper = new RunKeeper({ store, now: () => NOW, newId: randomId, log: () => {} });
  const swimmers = [{ id: randomId(), name: 'Ada Vint', lane: 1, order: 1, group: 'A', references: [] }];
  const squad = store.squad.replace(squadSchema.parse({ swimmers }), false);
  const draft = { id: practiceIdSchema.parse(randomId()), text: '8 x 50 free @ 1:00\n', title: 'Short' };
  const saved = store.practices.save({ ...draft, baseVersion: 0, savedAt: NOW, demo: false });
  if (!saved.ok) throw new Error('not saved');
  const planned = loadingOf(saved.practice, squad, store.pool.pool());
  if (!planned.ok) throw new Error(planned.message);
  keeper.load(planned.loading, false);
  const allowPages = (pages: unknown): void => database.exec(`PRAGMA max_page_count = ${pages}`);
  return {
    store,
    keeper,
    fill: () => allowPages(database.pragma('page_count')),
    makeRoom: () => allowPages(1_000_000),
  };
}

test('[FLT7] what the disk has no room for did not happen, and works again once there is room', () => {
  const { store, keeper, fill, makeRoom } = practiceOnSmallDisk();
  const press = (kind: 'hold' | 'resume' | 'start'): Command =>
    commandSchema.parse({
      kind,
      when: 'now',
      id: randomId(),
      device: '0'.repeat(32),
      run: keeper.run?.id,
      pressedAt: NOW,
      basedOnSeq: keeper.run?.seq,
    });
  expect(keeper.command(press('start'))).toEqual({ ok: true, seq: 1 });
  fill();
  let last = press('hold');
  let answer = keeper.command(last);
  for (let tries = 0; answer.ok && tries < 1000; tries += 1) {
    last = press(keeper.run?.state === 'held' ? 'resume' : 'hold');
    answer = keeper.command(last);
  }
  expect(answer).toMatchObject({ ok: false, code: 'not-stored' });
  expect(keeper.storing).toBe(false);
  const run = keeper.run;
  expect(store.runs.answerTo(last.id)).toBe(null);
  expect(store.runs.eventsOf(last.run).at(-1)?.seq).toBe(run?.seq);
  makeRoom();
  expect(keeper.command(last)).toEqual({ ok: true, seq: (run?.seq ?? 0) + 1 });
  expect(keeper.storing).toBe(true);
});

test('[FLT7] a time that the disk has no room for is said not to be stored, and is once there is room', () => {
  const { store, keeper, fill, makeRoom } = practiceOnSmallDisk();
  const swimmer = Object.keys(keeper.liveFor('desk').labels)[0];
  const time = (): MarkCommand =>
    markCommandSchema.parse({
      kind: 'mark',
      id: randomId(),
      device: '0'.repeat(32),
      run: keeper.run?.id,
      swimmer,
      step: '1.0.0.1',
      pass: 1,
      distance: 50,
      pressedAt: NOW,
    });
  fill();
  let last = time();
  let answer = keeper.marks.mark(last);
  for (let tries = 0; answer.ok && tries < 1000; tries += 1) {
    last = time();
    answer = keeper.marks.mark(last);
  }
  expect(answer).toMatchObject({ ok: false, code: 'not-stored' });
  expect(keeper.storing).toBe(false);
  const stored = keeper.marks.seqOf(last.run);
  makeRoom();
  expect(keeper.marks.mark(last)).toEqual({ ok: true, seq: stored + 1 });
  expect(keeper.storing).toBe(true);
  expect(store.marks.eventsOf(last.run).map(({ seq }) => seq)).toHaveLength(stored + 1);
});

test('[FLT7] what sets came to is kept as far as there is room, and the rest once there is', async () => {
  const opened = openDatabase(temporaryFolder());
  if (!opened.ok) throw new Error(opened.message);
  const { database } = opened;
  onTestFinished(() => database.close());
  const store = storeOn(database);
  const logged: unknown[] = [];
  const machine = new HandMachineClock({ wallMs: NOW });
  const now = (): Instant => instant(machine.wallMs());
  const keeper = new RunKeeper({
    store,
    now,
    newId: randomId,
    log: (error) => void logged.push(error),
  });
  store.squad.replace({ swimmers: [swimmer('Ada Vint', 1, 'A', [])] }, false);
  const season = new Season({ store, keeper }, { now, pass: (byMs) => machine.pass(byMs) });
  const text = `Main\n${'2 x 50 free @ 1:00\n4 x 25 kick @ 1:00\n'.repeat(5)}`;
  for (let practices = 0; practices < 8; practices += 1) season.swim(text, { timeOf: () => 40 });
  const left = (): number => store.keptSets.stale({ toleranceMsPer50: 300, workingOut: WORKING_OUT }, null).length;
  expect(left()).toBe(8);
  database.exec(`PRAGMA max_page_count = ${database.pragma('page_count')}`);
  await keeper.history.upToDate(null);
  expect(left()).toBeGreaterThan(0);
  expect(logged).toHaveLength(1);
  expect(String(logged[0])).toContain('full');
  // What there is is still told.
  expect(store.history.kinds(10, { rehearsed: false }).more).toBe(false);
  database.exec('PRAGMA max_page_count = 1000000');
  await keeper.history.upToDate(null);
  expect(left()).toBe(0);
  expect(store.history.kinds(10, { rehearsed: false }).kinds).toMatchObject([{ occurrences: 8 }, { occurrences: 8 }]);
});
