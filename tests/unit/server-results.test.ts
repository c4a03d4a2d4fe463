import { mean, sampleStandardDeviation } from 'simple-statistics';
import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import { randomId } from '../../server/ids.ts';
import { SteppedClock } from '../../server/rehearsal/clock.ts';
import type { PlannedPress, Presser } from '../../server/rehearsal/coach.ts';
import { Rehearsal, type RehearsalResult } from '../../server/rehearsal/rehearsal.ts';
import { instant, type SwimmerId } from '../../shared-types/brand.ts';
import { type Mark, marksOf } from '../../shared-types/marks.ts';
import { departuresOf, type RepStep, targetsOf } from '../../shared-types/sheet.ts';
import { practiceSummarySchema, squadAnswerSchema } from '../../shared-types/wire/desk.ts';
import { failureSchema } from '../../shared-types/wire/from-server.ts';
import {
  linesAnswerSchema,
  type ResultsAnswer,
  type RunsAnswer,
  resultsAnswerSchema,
  runsAnswerSchema,
} from '../../shared-types/wire/results.ts';
import { paired } from '../fixtures/paired.ts';
import { pool25 } from '../fixtures/planning.ts';
import { type RunningServer, runServer, runServerOn, withDemo, withRun } from '../fixtures/running-server.ts';

const NOON = Date.UTC(2027, 0, 15, 12, 0, 31);
/** A 3000 in 40:00 is 80 s per 100. */
const ADAS_THRESHOLD_MS = 80_000;

/** Three swimmers' finishes of 22 reps, of which one is not timed. */
const TIMES = 3 * (8 + 6 + 4 + 4) - 1;

const REHEARSED = {
  practiceText: `# Four kinds of work

Pace: race pace
8 x 50 free @ 1:00 at 200 pace

Average: best average
6 x 100 free @ 2:00 max

Long: threshold
4 x 200 free @ 3:30 at threshold

Feet: skills
4 x 50 kick @ 1:30
`,
  squadCsv: `swimmer,lane,event,course,time,kind
Ada Vance,1,200 free,SCM,2:00.00,best
,,100 free,SCM,56.00,best
,,3000 free,SCM,40:00.00,test
Ada Sorn,1,200 free,SCM,2:02.00,best
Cato Lind,2,200 free,SCM,2:10.00,best
`,
  pool: pool25,
};

type Asking = Pick<RunningServer, 'ask'>;

const runsOf = async (server: Asking, query = ''): Promise<RunsAnswer> =>
  runsAnswerSchema.parse((await server.ask('GET', `/api/runs${query}`)).body);

async function resultsOf({ ask }: Asking, run: string, role = 'desk'): Promise<ResultsAnswer> {
  const reply = await ask('GET', `/api/runs/${run}/results?role=${role}`);
  expect(reply.status).toBe(200);
  return resultsAnswerSchema.parse(reply.body);
}

/** What was swum of a set, straight from the deck's marks and sheet: no part of the results is asked. */
function swumOf({ followed }: RehearsalResult, set: number, swimmer: SwimmerId): { rep: RepStep; mark: Mark }[] {
  const marks = marksOf(followed.book).filter((mark) => mark.swimmer === swimmer);
  return followed.sheet.lanes.flatMap((lane) =>
    lane.steps.flatMap((step) => {
      if (step.kind !== 'rep' || step.set !== set) return [];
      if (!departuresOf(lane, step).some((one) => one.swimmer === swimmer)) return [];
      const mark = marks.find((one) => one.step === step.id);
      return mark ? [{ rep: step, mark }] : [];
    }),
  );
}

const timesOf = (result: RehearsalResult, set: number, swimmer: SwimmerId): number[] =>
  swumOf(result, set, swimmer).map(({ mark }) => mark.ms ?? Number.NaN);

interface Rehearsed {
  readonly server: RunningServer<SteppedClock>;
  readonly result: RehearsalResult;
  readonly results: ResultsAnswer;
}

/** The whole practice, swum to its end on a real server. */
async function rehearsed(alsoPressing: readonly Presser[] = []): Promise<Rehearsed> {
  const server = await runServerOn(new SteppedClock(NOON));
  const { url, machine: clock } = server;
  const rehearsal = await Rehearsal.prepared(
    { server: paired(url), clock, newId: randomId, seed: 7, alsoPressing },
    REHEARSED,
  );
  const result = await rehearsal.run();
  expect(result.finished).toBe(true);
  return { server, result, results: await resultsOf(server, result.followed.run.id) };
}

/** Somebody who presses once, at that time of the pool's clock. */
function onceAt(at: number, press: PlannedPress['press']): Presser {
  let isPressed = false;
  return {
    next: () => (isPressed ? null : { press, at: instant(at) }),
    pressed: () => {
      isPressed = true;
    },
  };
}

/** Each swimmer of a set, with the times straight from the deck's marks. */
const swimmersOf = ({ results, result }: Rehearsed, set: number) =>
  (results.sets[set]?.swimmers ?? []).map((own) => ({ ...own, times: timesOf(result, set, own.swimmer) }));

describe('the results of a practice that was swum to its end', () => {
  test('are there set by set, for everybody, with the words of the sheet and the times of the marks', async () => {
    const here = await rehearsed();
    expect(here.result.tally.marksStored).toBe(TIMES);
    expect(here.results.sets.map(({ section, words, style }) => [section, words, style])).toEqual([
      ['Pace', '8 × 50 free', 'race pace'],
      ['Average', '6 × 100 free', 'best average'],
      ['Long', '4 × 200 free', 'threshold'],
      ['Feet', '4 × 50 free kick', 'skills'],
    ]);
    for (const set of [0, 1, 2, 3]) {
      const swimmers = swimmersOf(here, set);
      expect(swimmers.map(({ swimmer }) => here.results.labels[swimmer])).toEqual([
        'Ada Vance',
        'Ada Sorn',
        'Cato Lind',
      ]);
      for (const { reps, times } of swimmers) {
        expect(reps.flatMap(({ ms }) => ms ?? [])).toEqual(times);
      }
    }
  });

  test('have the means and spreads that simple-statistics makes of the marks', async () => {
    const here = await rehearsed();
    for (const { times, spread, lead, change } of swimmersOf(here, 1)) {
      expect(spread).toMatchObject({ count: 6, missing: 0, bestMs: Math.min(...times), worstMs: Math.max(...times) });
      expect(spread.meanMs).toBeCloseTo(mean(times), 6);
      expect(spread.sdMs).toBeCloseTo(sampleStandardDeviation(times), 6);
      expect(lead.metrics).toEqual(['mean', 'spread', 'finish', 'change']);
      // Nothing was swum another day.
      expect(change).toEqual({ none: 'not swum before' });
    }
  });

  test('hold each rep against its target with the tolerance', async () => {
    const here = await rehearsed();
    const { sheet } = here.result.followed;
    for (const { swimmer, reps, hits } of swimmersOf(here, 0)) {
      const verdicts = swumOf(here.result, 0, swimmer).map(({ rep, mark }) => {
        const target = targetsOf(sheet, rep).find((one) => one.swimmer === swimmer)?.ms ?? Number.NaN;
        const over = (mark.ms ?? Number.NaN) - target;
        // 0.3 s a 50 either way: a setting; common practice, no source.
        return over > 300 ? 'missed' : over < -300 ? 'under' : 'held';
      });
      expect(reps.map(({ judgements }) => judgements)).toEqual(verdicts.map((verdict) => [{ distance: 50, verdict }]));
      const held = verdicts.filter((verdict) => verdict !== 'missed').length;
      expect(hits).toMatchObject({ judged: 8, hits: held, pacedDistance: held * 50 });
    }
  });

  test('go by the tolerance that the pool has now, whatever it was when the practice was swum', async () => {
    const here = await rehearsed();
    await here.server.ask('PUT', '/api/pool', { body: { ...pool25, toleranceMsPer50: 0 } });
    const { sets } = await resultsOf(here.server, here.results.run.id);
    for (const { swimmer, hits } of sets[0]?.swimmers ?? []) {
      const targetMs = here.results.sets[0]?.swimmers.find((own) => own.swimmer === swimmer)?.reps[0]?.target.ms;
      const held = timesOf(here.result, 0, swimmer).filter((ms) => ms <= (targetMs ?? Number.NaN));
      expect(hits).toMatchObject({ toleranceMsPer50: 0, hits: held.length });
    }
  });

  test('hold a threshold set against the threshold from the squad, where it has one', async () => {
    const here = await rehearsed();
    const [ada, other] = swimmersOf(here, 2);
    expect(ada?.threshold.against).toBe('threshold');
    expect(ada?.threshold.overPer100Ms).toBeCloseTo(mean(ada?.times ?? []) / 2 - ADAS_THRESHOLD_MS, 6);
    expect(other?.threshold.against).toBe('nothing');
  });

  test('are the same after the server was started again, and when another practice is on the wall', async () => {
    const { server, result, results } = await rehearsed();
    const { id } = result.followed.run;
    await server.farwall.close();
    const again = await runServerOn(server.machine, { folder: server.folder });
    expect(await resultsOf(again, id)).toEqual(results);
    await again.ask('DELETE', '/api/runs/live');
    expect(await resultsOf(again, id)).toEqual({ ...results, run: { ...results.run, live: false } });
  });
});

test('results of a practice that was changed as it was swum are by all versions of its sheet, after a restart too', async () => {
  // In the third of the eight fifties two are taken off, so that there are six.
  const press = {
    kind: 'change',
    change: { kind: 'adjust', set: '4', scope: { kind: 'all' }, by: { count: -2 } },
  } as const;
  const { server, result, results } = await rehearsed([onceAt(NOON - 31_000 + 150_000, press)]);
  const { id, sheet } = result.followed.run;
  expect(sheet).not.toBe(server.farwall.store.runs.run(id)?.hash);
  for (const { swimmer, reps } of results.sets[0]?.swimmers ?? []) {
    expect(reps).toHaveLength(6);
    expect(reps.map(({ ms }) => ms)).toEqual(timesOf(result, 0, swimmer));
  }
  await server.farwall.close();
  const again = await runServerOn(server.machine, { folder: server.folder });
  expect(await resultsOf(again, id)).toEqual(results);
});

describe('the list of practices swum', () => {
  test('is newest first, page by page, with how far each has come and how many times were taken', async () => {
    const { server, result } = await rehearsed();
    const { id } = result.followed.run;
    const [practice] = z.array(practiceSummarySchema).parse((await server.ask('GET', '/api/practices')).body);
    await server.machine.towards(server.machine.monotonicMs() + 60_000);
    await server.ask('POST', '/api/runs', { body: { practice: practice?.id, version: 1, replace: false } });
    const { runs, more } = await runsOf(server);
    const title = 'Four kinds of work';
    expect(more).toBe(false);
    expect(runs).toMatchObject([
      { title, practice: practice?.id, state: 'ready', live: true, times: 0 },
      { id, title, state: 'finished', live: false, times: TIMES },
    ]);
    expect(runs.map(({ rehearsed }) => rehearsed)).toEqual([false, false]);
    const first = await runsOf(server, '?limit=1');
    expect(first).toEqual({ runs: runs.slice(0, 1), more: true });
    expect(await runsOf(server, `?limit=1&before=${first.runs[0]?.id}`)).toEqual({ runs: runs.slice(1), more: false });
  });

  test('has each practice once, page by page, also where some were put on the wall at the same instant', async () => {
    const server = await runServer();
    const practices = (await withDemo(server)).slice(0, 3);
    for (const { id } of practices) {
      const reply = await server.ask('POST', '/api/runs', { body: { practice: id, version: 1, replace: true } });
      expect(reply.status).toBe(200);
    }
    const { runs } = await runsOf(server);
    expect(new Set(runs.map(({ title }) => title))).toEqual(new Set(practices.map(({ title }) => title)));
    const [first, second, third] = runs;
    expect(await runsOf(server, '?limit=1')).toEqual({ runs: [first], more: true });
    expect(await runsOf(server, `?limit=1&before=${first?.id}`)).toEqual({ runs: [second], more: true });
    expect(await runsOf(server, `?limit=1&before=${second?.id}`)).toEqual({ runs: [third], more: false });
  });

  test('says of one that was only tried out that it was rehearsed, after the server was started again too', async () => {
    const server = await runServer();
    const [practice] = await withDemo(server);
    const body = { practice: practice?.id, version: 1, replace: false, rehearsed: true };
    expect((await server.ask('POST', '/api/runs', { body })).status).toBe(200);
    const before = await runsOf(server);
    expect(before.runs).toMatchObject([{ live: true, rehearsed: true }]);
    await server.farwall.close();
    expect(await runsOf(await runServer({ folder: server.folder }))).toEqual(before);
  });

  test('counts no time that was taken back, and one again that was given back', async () => {
    const { server, result } = await rehearsed();
    const { run, book } = result.followed;
    const [mark] = book.entries.keys();
    const deck = server.screen('deck');
    await deck.hello();
    const repaired = async (kind: 'void' | 'restore'): Promise<number | undefined> => {
      const command = { kind, mark, id: randomId(), device: deck.device, run: run.id };
      expect(await deck.ask('mark', command)).toMatchObject({ ok: true });
      return (await runsOf(server)).runs[0]?.times;
    };
    expect(await repaired('void')).toBe(TIMES - 1);
    const [first] = (await resultsOf(server, run.id)).sets[0]?.swimmers ?? [];
    expect(first?.reps[0]).toMatchObject({ ms: null, missing: 'not timed' });
    expect(first?.spread).toMatchObject({ count: 7, missing: 1 });
    expect(await repaired('restore')).toBe(TIMES);
  });
});

describe('what is asked of results', () => {
  test('is answered with full names on the desk, short ones on a deck, and not on a wall', async () => {
    const server = await runServer();
    const run = await withRun(server);
    const path = `/api/runs/${run.id}/results`;
    const squad = squadAnswerSchema.parse((await server.ask('GET', '/api/squad')).body);
    const names = squad.swimmers.map(({ name }) => name);
    const labels = async (role: string) => Object.values((await resultsOf(server, run.id, role)).labels);
    expect(new Set(await labels('desk'))).toEqual(new Set(names));
    expect((await labels('deck')).filter((label) => names.includes(label))).toEqual([]);
    const refused = await server.ask('GET', `${path}?role=wall`);
    expect(refused.status).toBe(403);
    expect(failureSchema.parse(refused.body).message).toBe('Results are for decks and desks only.');
    // Names are beside the results, never in them.
    const { sets } = await resultsOf(server, run.id);
    expect(names.filter((name) => JSON.stringify(sets).includes(name))).toEqual([]);
  });

  test('comes to a deck as a line a swimmer, word for word, of what somebody has left on', async () => {
    const { server, result } = await rehearsed();
    const { id } = result.followed.run;
    const { run, labels, sets } = await resultsOf(server, id, 'deck');
    const reply = await server.ask('GET', `/api/runs/${id}/lines?role=deck`);
    const lines = linesAnswerSchema.parse(reply.body);
    expect(lines).toMatchObject({ run: id, markSeq: run.markSeq, labels });
    expect(lines.sets.map(({ swimmers }) => swimmers.map(({ swimmer, line }) => [swimmer, line]))).toEqual(
      sets.map(({ swimmers }) => swimmers.map(({ swimmer, lead }) => [swimmer, lead.line])),
    );
    expect(lines.sets[0]).toMatchObject({
      words: '8 × 50 free at 200 pace',
      swimmers: [{ lane: 1 }, { lane: 1 }, { lane: 2 }],
    });
    const whole = await server.ask('GET', `/api/runs/${id}/results?role=deck`);
    expect(reply.bytes.length * 10).toBeLessThan(whole.bytes.length);
    expect((await server.ask('GET', `/api/runs/${id}/lines?role=wall`)).status).toBe(403);
  });

  test('before anybody has swum, says that nobody has', async () => {
    const server = await runServer();
    const run = await withRun(server);
    const { run: summary, sets } = await resultsOf(server, run.id);
    expect(summary).toMatchObject({ state: 'ready', live: true, times: 0 });
    const lines = linesAnswerSchema.parse((await server.ask('GET', `/api/runs/${run.id}/lines`)).body);
    expect(lines).toMatchObject({ markSeq: 0, sets: [] });
    const reps = sets.flatMap(({ swimmers }) => swimmers.flatMap((own) => own.reps));
    expect(new Set(reps.map(({ missing }) => missing))).toEqual(new Set(['not swum']));
  });

  test.for([
    [`/api/runs/${'0'.repeat(32)}/results`, 404, 'The server has never had such a practice.'],
    [`/api/runs?before=${'0'.repeat(32)}`, 404, 'The server has never had such a practice.'],
    ['/api/runs/monday/results', 400, 'The server cannot read this: not a 128-bit id in hex.'],
    ['/api/runs?limit=0', 400, 'The server cannot read this: Too small: expected number to be >=1.'],
  ] as const)('%s is answered with %i and words', async ([path, status, message]) => {
    const server = await runServer();
    const reply = await server.ask('GET', path);
    expect(reply.status).toBe(status);
    expect(failureSchema.parse(reply.body).message).toBe(message);
  });
});
