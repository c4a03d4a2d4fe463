import fc from 'fast-check';
import { mean } from 'simple-statistics';
import { describe, expect, onTestFinished, test } from 'vitest';
import { randomId } from '../../server/ids.ts';
import { RunKeeper } from '../../server/running/run-keeper.ts';
import { runResults } from '../../server/running/run-results.ts';
import { openStore, type Store } from '../../server/store/store.ts';
import { instant, type RunId } from '../../shared-types/brand.ts';
import { isKnown } from '../../shared-types/results.ts';
import type { Occurrence, SwumOnce } from '../../shared-types/wire/history.ts';
import type { ResultsAnswer, ShownSwimmer } from '../../shared-types/wire/results.ts';
import { best, swimmer } from '../fixtures/planning.ts';
import { Season } from '../fixtures/swum-season.ts';
import { temporaryFolder } from '../fixtures/temporary-folder.ts';

const SQUAD = {
  swimmers: [
    swimmer('Ada Vance', 1, 'A', [best('200 free', '2:00.00')]),
    swimmer('Bela Sorn', 1, 'A', []),
    swimmer('Cato Lind', 2, 'B', [best('200 free', '2:20.00')]),
  ],
};

const LINES = [
  '4 x 50 free @ 1:00 at 200 pace',
  '4 x 50 free @ 1:10 at 200 pace',
  '4/3 x 50 free @ 1:00/1:20 at 200 pace',
  '3 x 100 free @ 1:40 (50 at 200 pace, 50 easy)',
  '3 x :30 free kick @ 1:00',
  '2 x 50 free rest :20 at 200 pace',
  '2 rounds:\n  2 x 50 IM order @ 1:10',
];

/** What is done while a practice is swum, and after it. */
const anyPractice = fc.record({
  lines: fc.array(fc.constantFrom(...LINES), { minLength: 1, maxLength: 2 }),
  style: fc.constantFrom('race pace', 'best average'),
  rehearsed: fc.integer({ min: 0, max: 3 }).map((one) => one === 0),
  presses: fc.array(
    fc.record({
      afterMs: fc.integer({ min: 0, max: 60 }).map((n) => n * 2500),
      kind: fc.constantFrom('hold', 'resume', 'next', 'back'),
    }),
    { maxLength: 3 },
  ),
  swumForMs: fc.integer({ min: 0, max: 900 }).map((n) => n * 1000),
  /** Tenths; null: not taken. */
  times: fc.array(fc.option(fc.integer({ min: 250, max: 700 }), { freq: 5 }), { minLength: 1, maxLength: 12 }),
  /** Which of the times are taken back, at once or when the next practice is over. */
  voids: fc.array(fc.nat({ max: 20 }), { maxLength: 3 }),
  late: fc.boolean(),
  isAsked: fc.boolean(),
});
type Practice = typeof anyPractice extends fc.Arbitrary<infer T> ? T : never;

interface Pool {
  readonly store: Store;
  readonly keeper: RunKeeper;
  readonly season: Season;
}

function newPool(): Pool {
  const opened = openStore(temporaryFolder());
  if (!opened.ok) throw new Error(opened.message);
  const { store } = opened;
  onTestFinished(() => store.close());
  store.squad.replace(SQUAD, false);
  let now = Date.UTC(2027, 0, 15, 12);
  const log = (error: unknown): never => {
    throw error;
  };
  const keeper = new RunKeeper({ store, now: () => instant(now), newId: randomId, log });
  const clock = {
    now: () => now,
    pass: (byMs: number) => {
      now += byMs;
    },
  };
  return { store, keeper, season: new Season({ store, keeper }, clock) };
}

/** Swims one. @returns its run, and what takes back those of its times that are to be */
function swim({ season }: Pool, { lines, style, rehearsed, presses, swumForMs, times, voids }: Practice) {
  const { run } = season.begin(`Main: ${style}\n${lines.join('\n')}\n`, rehearsed);
  for (const { afterMs, kind } of presses) {
    season.pass(afterMs);
    season.press(kind);
  }
  season.pass(swumForMs);
  let taken = 0;
  const marks = season.time(run, () => {
    const tenths = times[taken++ % times.length] ?? null;
    return tenths === null ? null : tenths / 10;
  });
  season.finish();
  const takeBack = (): void => {
    for (const mark of new Set(voids.flatMap((place) => marks[place] ?? []))) season.mark(run, { kind: 'void', mark });
  };
  return { run, takeBack };
}

/** A whole season, in which somebody asks now and then. */
async function swimAll(pool: Pool, practices: readonly Practice[]): Promise<RunId[]> {
  const runs: RunId[] = [];
  const due: (() => void)[] = [];
  for (const practice of practices) {
    const { run, takeBack } = swim(pool, practice);
    runs.push(run);
    for (const late of due.splice(0)) late();
    if (practice.late) due.push(takeBack);
    else takeBack();
    if (practice.isAsked) await pool.keeper.history.upToDate(null);
    pool.season.pass(3_600_000);
  }
  for (const late of due) late();
  return runs;
}

const beganAt = ({ reps }: ShownSwimmer): number => Math.min(...reps.map(({ leftAt }) => leftAt ?? Infinity));
const isWhole = ({ reps }: ShownSwimmer): boolean => reps.every(({ leftAt }) => leftAt !== null);
const timesOf = ({ reps }: ShownSwimmer): number[] => reps.flatMap(({ ms }) => ms ?? []);

/** What is to be kept of a swimmer's set, from its reps as the results show them. */
function expected(own: ShownSwimmer): SwumOnce {
  const times = timesOf(own);
  const verdicts = own.reps.flatMap(({ judgements }) => judgements.map(({ verdict }) => verdict));
  const isTimed = times.length > 0;
  return {
    swimmer: own.swimmer,
    strict: own.signature.strict,
    reps: own.reps.length,
    timed: times.length,
    isWhole: isWhole(own),
    meanMs: isTimed ? expect.closeTo(mean(times), 6) : null,
    bestMs: isTimed ? Math.min(...times) : null,
    worstMs: isTimed ? Math.max(...times) : null,
    judged: verdicts.filter((verdict) => verdict !== 'unjudged').length,
    hits: verdicts.filter((verdict) => verdict === 'held' || verdict === 'under').length,
  };
}

/** Every set of a practice, by what it is known again by, with those who left on it. */
function expectedOccurrences({ run, sets }: ResultsAnswer, loose: string): Omit<Occurrence, 'title'>[] {
  return sets.flatMap(({ set, swimmers }) => {
    const own = swimmers.filter((one) => one.signature.loose === loose && beganAt(one) < Infinity);
    if (own.length === 0) return [];
    const at = instant(Math.min(...own.map(beganAt)));
    return [{ run: run.id, set, at, rehearsed: run.rehearsed, swimmers: own.map(expected) }];
  });
}

const RUNS = { numRuns: 40, endOnFailure: true };
const anySeason = fc.array(anyPractice, { minLength: 1, maxLength: 4 });

async function resultsOf({ store, keeper }: Pool, runs: readonly RunId[]): Promise<ResultsAnswer[]> {
  const answers: ResultsAnswer[] = [];
  for (const run of runs) {
    const answer = await runResults(store, keeper, run, 'desk');
    if (answer) answers.push(answer);
  }
  return answers;
}

describe('whatever is swum', () => {
  test('what is kept of it is what the results say, whenever it was asked for and whatever was repaired later', async () => {
    await fc.assert(
      fc.asyncProperty(anySeason, async (practices) => {
        const pool = newPool();
        const results = await resultsOf(pool, await swimAll(pool, practices));
        await pool.keeper.history.upToDate(null);
        const { kinds } = pool.store.history.kinds(100, { rehearsed: true });
        const all = results.flatMap(({ sets }) => sets.flatMap(({ swimmers }) => swimmers));
        const swum = all.filter((own) => beganAt(own) < Infinity);
        const loose = new Set(swum.map(({ signature }) => signature.loose));
        expect(new Set(kinds.map(({ signature }) => signature))).toEqual(loose);
        for (const kind of kinds) {
          const { occurrences = [] } = pool.store.history.occurrences(kind.signature, { rehearsed: true }) ?? {};
          const should = results.flatMap((one) => expectedOccurrences(one, kind.signature));
          expect(occurrences.map(({ title: _, ...one }) => one)).toEqual(should.sort((a, b) => a.at - b.at));
          expect(kind.lastAt).toBe(Math.max(...should.map(({ at }) => at)));
          expect(kind.occurrences).toBe(new Set(should.map(({ run }) => run)).size);
          expect(kind.swimmers).toBe(new Set(should.flatMap((one) => one.swimmers.map((own) => own.swimmer))).size);
        }
      }),
      RUNS,
    );
  });

  test('each set is held against the last whole one before, strictly the same before loosely', async () => {
    await fc.assert(
      fc.asyncProperty(anySeason, async (practices) => {
        const pool = newPool();
        const results = await resultsOf(pool, await swimAll(pool, practices));
        results.forEach(({ run, sets }, place) => {
          const before = results.slice(0, place).filter((one) => run.rehearsed || !one.run.rehearsed);
          const whole = before
            .flatMap((one) => one.sets.flatMap(({ swimmers }) => swimmers))
            .filter((one) => isWhole(one) && timesOf(one).length > 0);
          for (const own of sets.flatMap(({ swimmers }) => swimmers)) {
            const { strict, loose } = own.signature;
            const same = whole
              .filter((one) => one.swimmer === own.swimmer && one.signature.loose === loose)
              .sort((a, b) => beganAt(b) - beganAt(a));
            const [last] = [...same.filter((one) => one.signature.strict === strict), ...same];
            if (!last) {
              expect(own.change).toEqual({ none: 'not swum before' });
              continue;
            }
            const then = { at: beganAt(last), likeness: last.signature.strict === strict ? 'strict' : 'loose' };
            expect(own.change).toMatchObject(then);
            if (!isKnown(own.change)) continue;
            const now = timesOf(own);
            if (now.length === 0) expect(own.change.meanMs).toEqual({ none: 'no times' });
            else expect(own.change.meanMs).toBeCloseTo(mean(now) - mean(timesOf(last)), 6);
          }
        });
      }),
      RUNS,
    );
  });
});
