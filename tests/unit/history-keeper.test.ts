import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { setImmediate as nextTurn } from 'node:timers/promises';
import { describe, expect, onTestFinished, test, vi } from 'vitest';
import { randomId } from '../../server/ids.ts';
import { WORKING_OUT } from '../../server/results/kept-set.ts';
import type { Later } from '../../server/running/history-keeper.ts';
import { RunKeeper } from '../../server/running/run-keeper.ts';
import { openStore } from '../../server/store/store.ts';
import { instant, type RunId } from '../../shared-types/brand.ts';
import type { Occurrence } from '../../shared-types/wire/history.ts';
import { best, swimmer } from '../fixtures/planning.ts';
import { Season, type SwumAs } from '../fixtures/swum-season.ts';
import { temporaryFolder } from '../fixtures/temporary-folder.ts';

const DAY_MS = 86_400_000;
const HOUR_MS = 3_600_000;
const NOON = Date.UTC(2027, 0, 15, 12);
const TEXT = 'Main: best average\n4 x 100 free @ 2:00\n';
const SIGNATURE = 'best average: 4 × 100 free, from a push, SCM';
const ADA = swimmer('Ada Vance', 1, 'A', [best('200 free', '2:00.00')]);

/** Sixty and so many seconds, each rep one more. */
const sixtyAnd =
  (seconds: number): SwumAs['timeOf'] =>
  ({ rep }) =>
    60 + seconds + rep;

interface Pool {
  readonly folder: string;
  readonly store: ReturnType<typeof open>;
  readonly keeper: RunKeeper;
  readonly season: Season;
  readonly logged: unknown[];
  close(): void;
}

function open(folder: string) {
  const opened = openStore(folder);
  if (!opened.ok) throw new Error(opened.message);
  return opened.store;
}

/** A store, its keepers and a clock moved by hand, from noon on that many days later. */
function poolIn(folder: string, { days = 0, later }: { days?: number; later?: Later } = {}): Pool {
  const store = open(folder);
  let isOpen = true;
  const close = (): void => {
    if (isOpen) store.close();
    isOpen = false;
  };
  onTestFinished(close);
  let now = NOON + days * DAY_MS;
  const logged: unknown[] = [];
  const log = (error: unknown): void => void logged.push(error);
  const keeper = new RunKeeper({ store, now: () => instant(now), newId: randomId, log, later });
  if (store.squad.squad().swimmers.length === 0) store.squad.replace({ swimmers: [ADA] }, false);
  const pass = (byMs: number): void => {
    now += byMs;
  };
  return { folder, store, keeper, logged, close, season: new Season({ store, keeper }, { now: () => now, pass }) };
}

const newPool = (later?: Later): Pool => poolIn(temporaryFolder(), later ? { later } : {});

/** So many practices, a day apart. @returns their runs */
const swimDays = ({ season }: Pool, days: number): RunId[] =>
  Array.from({ length: days }, (_, day) =>
    season.until(NOON + (day + 1) * DAY_MS).swim(TEXT, { timeOf: sixtyAnd(day) }),
  );

async function occurrencesOf({ store, keeper }: Pool): Promise<Occurrence[]> {
  await keeper.history.upToDate(null);
  return store.history.occurrences(SIGNATURE, { rehearsed: false })?.occurrences ?? [];
}

const meansOf = (occurrences: readonly Occurrence[]) =>
  occurrences.flatMap(({ swimmers }) => swimmers.map(({ meanMs }) => meanMs));

/** What is there without working anything out. */
const keptMeans = ({ store }: Pool) =>
  meansOf(store.history.occurrences(SIGNATURE, { rehearsed: false })?.occurrences ?? []);

describe('kept sets', () => {
  const harms: [string, string][] = [
    ['all are gone', 'DELETE FROM kept_sets; DELETE FROM kept_runs'],
    [
      'the database is from before they were kept',
      `DROP TABLE kept_sets; DROP TABLE kept_runs; DROP TABLE loads; DROP TABLE take_overs;
      DROP TABLE planned_practices; DROP TABLE practice_facts; DROP TABLE deleted_practices;
      DROP TABLE squad_before; DROP TABLE absences; DROP TABLE removed_demo;
      DROP TABLE installation; DROP TABLE devices; DROP TABLE wrong_codes;
      DROP TABLE deletions;
      ALTER TABLE runs DROP COLUMN rehearsed; PRAGMA user_version = 5`,
    ],
    ['some are gone', 'DELETE FROM kept_sets WHERE place = 0 AND run_id = (SELECT min(run_id) FROM kept_runs)'],
    ['they are of earlier events', 'UPDATE kept_runs SET seq = 1; UPDATE kept_sets SET mean_ms = 1'],
    ['they are of earlier marks', 'UPDATE kept_runs SET mark_seq = 3; UPDATE kept_sets SET mean_ms = 1'],
    ['they go by another tolerance', 'UPDATE kept_runs SET tolerance_ms_per_50 = 500; UPDATE kept_sets SET hits = 9'],
    [
      'they were worked out by an older Farwall',
      `UPDATE kept_runs SET working_out = ${WORKING_OUT - 1}; UPDATE kept_sets SET strict = 'older'`,
    ],
  ];
  test.for(harms)('are made right again when %s', async ([, harm]) => {
    const before = newPool();
    swimDays(before, 3);
    const right = await occurrencesOf(before);
    expect(meansOf(right)).toEqual([62_500, 63_500, 64_500]);
    before.close();
    const raw = new DatabaseSync(join(before.folder, 'farwall.db'), { enableForeignKeyConstraints: false });
    raw.exec(harm);
    raw.close();
    const after = poolIn(before.folder, { days: 10 });
    expect(await occurrencesOf(after)).toEqual(right);
    expect(keptMeans(after)).toEqual(meansOf(right));
    expect(after.logged).toEqual([]);
  });

  test('are worked out once: nobody reads the events of a run again for which nothing has changed', async () => {
    const pool = newPool();
    swimDays(pool, 3);
    const before = await occurrencesOf(pool);
    const read = vi.spyOn(pool.store.marks, 'eventsOf');
    expect(await occurrencesOf(pool)).toEqual(before);
    expect(read).not.toHaveBeenCalled();
  });

  test('of many runs are worked out without turning out the run that is at hand', async () => {
    const pool = newPool();
    swimDays(pool, 6);
    const { run } = pool.season.until(NOON + 10 * DAY_MS).begin(TEXT);
    pool.keeper.marks.departuresOf(run);
    const read = vi.spyOn(pool.store.marks, 'eventsOf');
    expect(await occurrencesOf(pool)).toHaveLength(7);
    expect(read).toHaveBeenCalledTimes(6);
    pool.keeper.marks.departuresOf(run);
    expect(read).not.toHaveBeenCalledWith(run);
  });

  test('of many runs are worked out one by one, and others get their turn in between', async () => {
    const pool = newPool();
    swimDays(pool, 5);
    const done = pool.keeper.history.upToDate(null);
    const seen: number[] = [];
    for (let turn = 0; turn < 6; turn += 1) {
      seen.push(keptMeans(pool).length);
      await nextTurn();
    }
    await done;
    expect(seen.slice(0, 3)).toEqual([1, 2, 3]);
    expect(keptMeans(pool)).toHaveLength(5);
  });

  test('of a server that is ending are left as far as they are', async () => {
    const pool = newPool();
    swimDays(pool, 5);
    const done = pool.keeper.history.upToDate(null);
    await pool.keeper.history.end();
    await done;
    expect(keptMeans(pool)).toHaveLength(1);
    const before = pool.store.keptSets.stale({ toleranceMsPer50: 300, workingOut: WORKING_OUT }, null);
    expect(before).toHaveLength(4);
  });
});

describe('a run whose sheet cannot be read', () => {
  /** Three days, the sheet of the second of which is no longer what it was. */
  async function unreadable(harm: (raw: DatabaseSync, hash: string) => void, whenKept: boolean): Promise<Pool> {
    const before = newPool();
    const [, second] = swimDays(before, 1).concat(
      before.season.until(NOON + 2 * DAY_MS).swim(`${TEXT}50 free @ 1:00\n`, { timeOf: sixtyAnd(1) }),
      before.season.until(NOON + 3 * DAY_MS).swim(TEXT, { timeOf: sixtyAnd(2) }),
    );
    if (whenKept) await before.keeper.history.upToDate(null);
    const hash = second && before.store.runs.run(second)?.hash;
    before.close();
    const raw = new DatabaseSync(join(before.folder, 'farwall.db'), { enableForeignKeyConstraints: false });
    harm(raw, hash ?? '');
    raw.close();
    return poolIn(before.folder, { days: 10 });
  }

  const purged = (raw: DatabaseSync, hash: string): void =>
    void raw.prepare('DELETE FROM sheets WHERE hash = ?').run(hash);
  const garbled = (raw: DatabaseSync, hash: string): void =>
    void raw.prepare("UPDATE sheets SET sheet_gzip = x'00' WHERE hash = ?").run(hash);

  test.for([
    ['gone', purged],
    ['garbled', garbled],
  ] as const)('(%s) is left out, noted once, and in nobody’s way', async ([, harm]) => {
    const pool = await unreadable(harm, false);
    for (const _ of [1, 2, 3]) expect(meansOf(await occurrencesOf(pool))).toEqual([62_500, 64_500]);
    expect(pool.logged).toHaveLength(1);
  });

  test('is still known by what was kept of it before', async () => {
    const pool = await unreadable(purged, true);
    expect(meansOf(await occurrencesOf(pool))).toEqual([62_500, 63_500, 64_500]);
    expect(pool.logged).toEqual([]);
  });
});

describe('what nobody has asked for yet', () => {
  /** Timers that are fired by hand. */
  function byHand() {
    const due = new Set<() => void>();
    const later: Later = (_, work) => {
      due.add(work);
      return () => due.delete(work);
    };
    /** @returns how many there were */
    const fire = (): number => {
      const works = [...due];
      due.clear();
      for (const work of works) work();
      return works.length;
    };
    return { later, fire };
  }

  test('is worked out soon after a practice is over, and after late times, once for many', async () => {
    const { later, fire } = byHand();
    const pool = newPool(later);
    expect(fire()).toBe(1);
    const { run } = pool.season.until(NOON + DAY_MS).begin(TEXT);
    pool.season.until(NOON + DAY_MS + HOUR_MS).time(run, sixtyAnd(0));
    // Under way: left alone.
    fire();
    await nextTurn();
    expect(keptMeans(pool)).toEqual([]);
    pool.season.finish();
    expect(fire()).toBe(1);
    await expect.poll(() => keptMeans(pool)).toEqual([62_500]);
    expect(fire()).toBe(0);
  });

  test('is worked out soon after the server was started, so also what a kill has cut off', async () => {
    const before = newPool();
    swimDays(before, 2);
    before.close();
    const { later, fire } = byHand();
    const pool = poolIn(before.folder, { days: 10, later });
    expect(keptMeans(pool)).toEqual([]);
    expect(fire()).toBe(1);
    await expect.poll(() => keptMeans(pool)).toEqual([62_500, 63_500]);
  });

  test('is worked out anew after a late repair, and never after the server has ended', async () => {
    const { later, fire } = byHand();
    const pool = newPool(later);
    const [run] = swimDays(pool, 1);
    fire();
    await expect.poll(() => keptMeans(pool)).toEqual([62_500]);
    if (!run) throw new Error('one was swum');
    const last = pool.keeper.marks.swumRun(run)?.marks.at(-1)?.id;
    pool.season.mark(run, { kind: 'void', mark: last });
    pool.season.mark(run, { kind: 'restore', mark: last });
    pool.season.mark(run, { kind: 'void', mark: last });
    expect(fire()).toBe(1);
    await expect.poll(() => keptMeans(pool)).toEqual([62_000]);
    await pool.keeper.history.end();
    pool.season.mark(run, { kind: 'restore', mark: last });
    expect(fire()).toBe(0);
  });
});
