import { mean } from 'simple-statistics';
import { describe, expect, test } from 'vitest';
import { instant, type RunId, type SwimmerId } from '../../shared-types/brand.ts';
import type { SwimmerResults } from '../../shared-types/results.ts';
import { failureSchema } from '../../shared-types/wire/from-server.ts';
import {
  type SetHistoryAnswer,
  type SetKindsAnswer,
  setHistoryAnswerSchema,
  setKindsAnswerSchema,
  type WeeksAnswer,
  weeksAnswerSchema,
} from '../../shared-types/wire/history.ts';
import { type ResultsAnswer, resultsAnswerSchema } from '../../shared-types/wire/results.ts';
import { HandMachineClock } from '../fixtures/machine-clock.ts';
import { best, swimmer } from '../fixtures/planning.ts';
import { type RunningServer, runServer } from '../fixtures/running-server.ts';
import { Season, type SwumAs } from '../fixtures/swum-season.ts';

/** 18:00 in Lisbon, where it is winter. */
const wednesday = (week: number): number => Date.UTC(2027, 0, 6 + 7 * week, 18);

const [ADA, BO] = [
  swimmer('Ada Vance', 1, 'A', [best('200 free', '2:00.00')]),
  swimmer('Bo Tarn', 2, 'B', [best('200 free', '2:20.00')]),
];

/** Ada swims four hundreds on 2:00, Bo three on 2:20; both the fifties and the kick. */
const practice = (sendOff = '2:00/2:20'): string => `# Wednesday

Average: best average
4/3 x 100 free @ ${sendOff}

Pace: race pace
4 x 50 free @ 1:00 at 200 pace

Feet: skills
4 x 50 kick @ 1:30
`;

const HUNDREDS = 'best average: 4 × 100 free, from a push, SCM';
const BOS_HUNDREDS = 'best average: 3 × 100 free, from a push, SCM';
const FIFTIES = 'race pace: 4 × 50 free, from a push, SCM';
const KICK = 'skills: 4 × 50 free kick, from a push, SCM';

/** Ada's hundreds in seconds, week by week. Means by hand: 63.5, 62.5, 59.0, 61.5, 61.0. */
const ADAS = [
  [62, 63, 64, 65],
  [61, 62, 63, 64],
  [59, 59, 59, 59],
  [60, 61, 62, 63],
  [60.5, 61.5, 60.5, 61.5],
] as const;
const BOS = [75, 76, 77] as const;
/** Targets are 30.0 and 35.0; 0.3 s more is still held. */
const ADAS_FIFTIES = [30, 30.3, 30.4, 29.5];

interface FiveWeeks {
  readonly server: RunningServer<HandMachineClock>;
  readonly season: Season;
  readonly ada: SwimmerId;
  readonly bo: SwimmerId;
  /** Of the first to the fifth week. */
  readonly runs: RunId[];
}

/** Everybody's times of a week; the kick is not timed. */
const timesOf =
  (week: number, ada: SwimmerId): SwumAs['timeOf'] =>
  ({ swimmer: own, step, rep }) => {
    const isAda = own === ada;
    if (step.distance === 100) return (isAda ? ADAS[week - 1] : BOS)?.[rep - 1] ?? null;
    if (step.set === 2) return null;
    return (isAda ? ADAS_FIFTIES[rep - 1] : 36) ?? null;
  };

/** Five Wednesdays: the third was only rehearsed, in the fourth the hundreds were on other send-offs. */
async function fiveWeeks(): Promise<FiveWeeks> {
  const server = await runServer({ machine: new HandMachineClock({ wallMs: wednesday(0) }) });
  const { farwall, machine } = server;
  const stored = farwall.store.squad.replace({ swimmers: [ADA, BO] }, false).swimmers;
  const [ada, bo] = stored.map(({ id }) => id);
  if (!ada || !bo) throw new Error('the squad is not stored');
  const season = new Season(farwall, { now: farwall.clock.now, pass: (byMs) => machine.pass(byMs) });
  const runs = [1, 2, 3, 4, 5].map((week) =>
    season
      .until(wednesday(week))
      .swim(practice(week === 4 ? '2:10/2:30' : undefined), { timeOf: timesOf(week, ada), rehearsed: week === 3 }),
  );
  return { server, season, ada, bo, runs };
}

type Asking = Pick<RunningServer, 'ask'>;

async function answered(server: Asking, path: string): Promise<unknown> {
  const reply = await server.ask('GET', path);
  expect(reply.status, `${path}: ${JSON.stringify(reply.body)}`).toBe(200);
  return reply.body;
}

const kindsOf = async (server: Asking, query = ''): Promise<SetKindsAnswer> =>
  setKindsAnswerSchema.parse(await answered(server, `/api/history/sets${query}`));

const setOf = async (server: Asking, signature: string, query = ''): Promise<SetHistoryAnswer> =>
  setHistoryAnswerSchema.parse(
    await answered(server, `/api/history/set?signature=${encodeURIComponent(signature)}${query}`),
  );

const weeksOf = async (server: Asking, query: string): Promise<WeeksAnswer> =>
  weeksAnswerSchema.parse(await answered(server, `/api/history/weeks${query}`));

const resultsOf = async (server: Asking, run: RunId): Promise<ResultsAnswer> =>
  resultsAnswerSchema.parse(await answered(server, `/api/runs/${run}/results?role=desk`));

/** What the hundreds are held against, swimmer by swimmer. */
const changesIn = ({ sets }: ResultsAnswer): SwimmerResults['change'][] =>
  sets[0]?.swimmers.map(({ change }) => change) ?? [];

const NOT_BEFORE = { none: 'not swum before' };

describe('five weeks of the same practice', () => {
  test('are listed as the kinds of sets that were swum, the last first, without what was only rehearsed', async () => {
    const { server } = await fiveWeeks();
    const { kinds, more } = await kindsOf(server);
    expect(more).toBe(false);
    const begins = (kind: string): number => kinds.find(({ signature }) => signature === kind)?.lastAt ?? 0;
    expect(kinds).toEqual([
      { signature: KICK, style: 'skills', occurrences: 4, swimmers: 2, lastAt: begins(KICK) },
      { signature: FIFTIES, style: 'race pace', occurrences: 4, swimmers: 2, lastAt: begins(FIFTIES) },
      { signature: BOS_HUNDREDS, style: 'best average', occurrences: 4, swimmers: 1, lastAt: wednesday(5) },
      { signature: HUNDREDS, style: 'best average', occurrences: 4, swimmers: 1, lastAt: wednesday(5) },
    ]);
    // Eight minutes of hundreds before the fifties, four of fifties before the kick.
    expect([begins(FIFTIES), begins(KICK)]).toEqual([8, 12].map((minutes) => wednesday(5) + minutes * 60_000));
    expect(await kindsOf(server, '?limit=1')).toEqual({ kinds: kinds.slice(0, 1), more: true });
    const all = await kindsOf(server, '?rehearsed=1');
    expect(all.kinds.map(({ occurrences }) => occurrences)).toEqual([5, 5, 5, 5]);
  });

  test('give the season of a set: each time with mean, best and worst, as simple-statistics has them', async () => {
    const { server, ada, runs } = await fiveWeeks();
    const { style, labels, occurrences } = await setOf(server, HUNDREDS);
    expect(style).toBe('best average');
    expect(labels[ada]).toBe('Ada Vance');
    const swum = [1, 2, 4, 5];
    expect(occurrences.map(({ run, set, title, at, rehearsed }) => ({ run, set, title, at, rehearsed }))).toEqual(
      swum.map((week) => ({
        run: runs[week - 1],
        set: 0,
        title: 'Wednesday',
        at: wednesday(week),
        rehearsed: false,
      })),
    );
    expect(occurrences.map(({ swimmers }) => swimmers)).toEqual(
      swum.map((week) => {
        const times = ADAS[week - 1]?.map((seconds) => seconds * 1000) ?? [];
        const sendOff = week === 4 ? '2:10' : '2:00';
        return [
          {
            swimmer: ada,
            strict: `${HUNDREDS}; @ ${sendOff}`,
            reps: 4,
            timed: 4,
            isWhole: true,
            meanMs: mean(times),
            bestMs: Math.min(...times),
            worstMs: Math.max(...times),
            judged: 0,
            hits: 0,
          },
        ];
      }),
    );
    expect(occurrences.map(({ swimmers: [own] }) => own?.meanMs)).toEqual([63_500, 62_500, 61_500, 61_000]);
    const withRehearsed = await setOf(server, HUNDREDS, '&rehearsed=1');
    expect(withRehearsed.occurrences.map(({ rehearsed }) => rehearsed)).toEqual([false, false, true, false, false]);
  });

  test('count what was held, and say of what was not timed that it was not', async () => {
    const { server, ada, bo } = await fiveWeeks();
    const [first] = (await setOf(server, FIFTIES)).occurrences;
    // By hand: 30.0 and 30.3 are held, 30.4 is missed, 29.5 is under; 36.0 is a second too slow each time.
    expect(first?.swimmers).toMatchObject([
      { swimmer: ada, judged: 4, hits: 3 },
      { swimmer: bo, judged: 4, hits: 0 },
    ]);
    const [kick] = (await setOf(server, KICK)).occurrences;
    const untimed = { reps: 4, timed: 0, isWhole: true, meanMs: null, bestMs: null, worstMs: null };
    expect(kick?.swimmers).toMatchObject([untimed, untimed]);
  });

  test('hold each set against the last that was strictly the same, loosely only where there is none', async () => {
    const { server, runs } = await fiveWeeks();
    const changes = await Promise.all(runs.map(async (run) => changesIn(await resultsOf(server, run))));
    const strict = (week: number, meanMs: number) => ({ meanMs, likeness: 'strict', at: wednesday(week) });
    expect(changes).toEqual([
      [NOT_BEFORE, NOT_BEFORE],
      [strict(1, -1000), strict(1, 0)],
      // Rehearsed: held against what was swum.
      [strict(2, -3500), strict(2, 0)],
      // Against the second week, the newest that was not only rehearsed; its send-offs are others.
      [
        { meanMs: -1000, likeness: 'loose', at: wednesday(2) },
        { meanMs: 0, likeness: 'loose', at: wednesday(2) },
      ],
      // Against the second week again: the fourth had other send-offs.
      [strict(2, -1500), strict(2, 0)],
    ]);
    const [last] = runs.slice(-1);
    const [hundreds] = last ? (await resultsOf(server, last)).sets : [];
    expect(hundreds?.swimmers[0]?.lead.line).toMatch(/, −1\.5 on last time$/);
    expect(hundreds?.swimmers[0]?.lead.metrics).toContain('change');
  });

  test('sum up to weeks: of a swimmer what that one swam, of the squad each set once', async () => {
    const { server, ada } = await fiveWeeks();
    const ofAda = await weeksOf(server, `?day=2027-02-10&weeks=6&swimmer=${ada}`);
    const minutes = { 'best average': 8, 'race pace': 4, skills: 6 };
    const week = (hundreds: object) => [
      { style: 'race pace', sets: 1, metres: 200, minutes: minutes['race pace'] },
      { style: 'best average', sets: 1, ...hundreds },
      { style: 'skills', sets: 1, metres: 200, minutes: minutes.skills },
    ];
    expect(ofAda.weeks.map(({ day }) => day)).toEqual([
      '2027-02-10',
      '2027-02-03',
      '2027-01-27',
      '2027-01-20',
      '2027-01-13',
      '2027-01-06',
    ]);
    // Four on 2:00, in the fourth week on 2:10; the third was rehearsed, and before the first there was nothing.
    const own = week({ metres: 400, minutes: 8 });
    expect(ofAda.weeks.map(({ byStyle }) => byStyle)).toEqual([
      own,
      week({ metres: 400, minutes: (4 * 130) / 60 }),
      [],
      own,
      own,
      [],
    ]);
    expect(ofAda.weeks[0]?.leftOut).toEqual(['active rest', 'stand-up', 'power', 'threshold', 'aerobic']);
    // Of four hundreds on 2:00 and three on 2:20 the mean: 350 m and 7.5 min.
    const squad = await weeksOf(server, '?day=2027-02-10&weeks=1');
    expect(squad.weeks.map(({ byStyle }) => byStyle)).toEqual([week({ metres: 350, minutes: 7.5 })]);
    // The days before Wednesday still have the one of the week before.
    const tuesday = await weeksOf(server, '?day=2027-02-09&weeks=1');
    expect(tuesday.weeks[0]?.byStyle.find(({ style }) => style === 'best average')?.sets).toBe(1);
    // Twelve weeks up to today, on the pool's clock.
    const usual = await weeksOf(server, '?rehearsed=1');
    expect(usual.weeks).toHaveLength(12);
    expect(usual.weeks[0]?.day).toBe('2027-02-10');
    expect(usual.weeks.filter(({ byStyle }) => byStyle.length > 0)).toHaveLength(5);
  });

  test('are in the CSV of results, with the instant and the likeness of what each set is held against', async () => {
    const { server, runs } = await fiveWeeks();
    const csv = (await server.ask('GET', `/api/runs/${runs[3]}/results.csv?role=desk`)).bytes.toString();
    const [head = '', ...rows] = csv.split('\r\n');
    expect(head.endsWith(',change_s,change_since,change_likeness')).toBe(true);
    const hundreds = rows.filter((row) => row.startsWith('set,') && row.includes('best average'));
    expect(hundreds.map((row) => row.split(',').slice(-3))).toEqual([
      ['-1', '2027-01-20T18:00:00.000Z', 'other send-off or effort'],
      ['0', '2027-01-20T18:00:00.000Z', 'other send-off or effort'],
    ]);
  });
});

describe('a rehearsed practice', () => {
  test('is also held against another that was rehearsed', async () => {
    const { server, season, ada } = await fiveWeeks();
    const again = season.until(wednesday(6)).swim(practice(), { timeOf: timesOf(1, ada), rehearsed: true });
    const after = season.until(wednesday(7)).swim(practice(), { timeOf: timesOf(1, ada), rehearsed: true });
    expect(changesIn(await resultsOf(server, again))[0]).toMatchObject({ meanMs: 2500, at: wednesday(5) });
    expect(changesIn(await resultsOf(server, after))[0]).toMatchObject({ meanMs: 0, at: wednesday(6) });
  });
});

describe('what a set is held against', () => {
  test('was swum to its end, by the same swimmer, in a practice before, whatever was looked at first', async () => {
    const { server, season, ada } = await fiveWeeks();
    // Ten seconds into the third hundred: the mean of those begun is of another set.
    const broken = season.until(wednesday(6)).swim(practice(), { timeOf: timesOf(5, ada), forMs: 250_000 });
    const next = season.until(wednesday(7)).swim(practice(), { timeOf: timesOf(1, ada) });
    expect(changesIn(await resultsOf(server, next))[0]).toEqual({
      meanMs: 2500,
      likeness: 'strict',
      at: wednesday(5),
    });
    const [own] = (await setOf(server, HUNDREDS)).occurrences.find(({ run }) => run === broken)?.swimmers ?? [];
    expect(own).toMatchObject({ reps: 4, timed: 3, isWhole: false });
  });

  test('is another when times of it are taken back, though its practice is long over', async () => {
    const { server, season, ada, runs } = await fiveWeeks();
    const [, second, , , last] = runs;
    if (!second || !last) throw new Error('there are five');
    expect(changesIn(await resultsOf(server, last))[0]).toMatchObject({ meanMs: -1500 });
    // Of 61, 62, 63 and 64 the 64 goes: the mean is 62.0.
    const marks = server.farwall.keeper.marks.swumRun(second)?.marks ?? [];
    const sixtyFour = marks.find(({ swimmer: own, ms }) => own === ada && ms === 64_000);
    season.mark(second, { kind: 'void', mark: sixtyFour?.id });
    expect(changesIn(await resultsOf(server, last))[0]).toMatchObject({ meanMs: -1000, at: wednesday(2) });
    const [, kept] = (await setOf(server, HUNDREDS)).occurrences;
    expect(kept?.swimmers[0]).toMatchObject({ timed: 3, meanMs: 62_000, worstMs: 63_000 });
  });
});

test('a practice under way is in its history as far as it has come, and what has not been left on is not', async () => {
  const { server, season, ada } = await fiveWeeks();
  const { run } = season.until(wednesday(6)).begin(practice());
  const reps = async () => {
    const { occurrences } = await setOf(server, HUNDREDS);
    return occurrences.filter((one) => one.run === run).flatMap(({ swimmers }) => swimmers);
  };
  server.machine.pass(60_000);
  expect(await reps()).toMatchObject([{ reps: 4, timed: 0, isWhole: false, meanMs: null }]);
  server.machine.pass(400_000);
  season.time(run, timesOf(5, ada));
  expect(await reps()).toMatchObject([{ reps: 4, timed: 4, isWhole: true, meanMs: 61_000 }]);
  // No press came in between: only time went by.
  expect((await setOf(server, FIFTIES)).occurrences.map((one) => one.run)).not.toContain(run);
  server.machine.pass(60_000);
  expect((await setOf(server, FIFTIES)).occurrences.map((one) => one.run)).toContain(run);
  const { lastAt } = (await kindsOf(server)).kinds.find(({ signature }) => signature === FIFTIES) ?? {};
  expect(lastAt).toBe(instant(wednesday(6) + 8 * 60_000));
});

describe('what is asked of the history', () => {
  test('is answered with short names on a deck', async () => {
    const { server, ada } = await fiveWeeks();
    const { labels } = await setOf(server, HUNDREDS, '&role=deck');
    expect(labels[ada]).toBe('Ada');
  });

  test('goes on to be known of who has left the squad', async () => {
    const { server, ada, bo } = await fiveWeeks();
    await kindsOf(server);
    server.farwall.store.squad.replace({ swimmers: [ADA] }, false);
    const { weeks, labels } = await weeksOf(server, `?day=2027-02-10&weeks=1&swimmer=${bo}`);
    expect(weeks[0]?.byStyle.find(({ style }) => style === 'best average')).toMatchObject({ metres: 300, minutes: 7 });
    expect(Object.keys(labels)).toEqual([ada]);
  });

  test('of a server on which nobody has swum is that nothing was', async () => {
    const server = await runServer();
    expect(await kindsOf(server)).toEqual({ kinds: [], more: false });
    const { weeks } = await weeksOf(server, '?day=2027-02-10&weeks=1');
    expect(weeks).toMatchObject([{ day: '2027-02-10', byStyle: [] }]);
    expect(weeks[0]?.leftOut).toHaveLength(8);
  });

  const UNKNOWN = '0'.repeat(32);
  test.for([
    ['sets?role=wall', 403, 'What was swum is for decks and desks only.'],
    ['set?role=wall&signature=x', 403, 'What was swum is for decks and desks only.'],
    ['weeks?role=wall', 403, 'What was swum is for decks and desks only.'],
    ['sets?limit=501', 400, 'The server cannot read this: more than the 500 sets that one answer holds.'],
    ['set', 400, 'The server cannot read this: no signature of a set.'],
    ['set?signature=8%20times', 404, 'Such a set has never been swum.'],
    ['weeks?day=15.1.2027', 400, 'The server cannot read this: not a date like 2027-01-15.'],
    ['weeks?day=2027-02-30', 400, 'The server cannot read this: not a date like 2027-01-15.'],
    ['weeks?day=1969-12-31', 400, 'The server cannot read this: before 1970-01-01.'],
    ['weeks?weeks=54', 400, 'The server cannot read this: more than the 53 weeks that one answer holds.'],
    ['weeks?weeks=0', 400, 'The server cannot read this: not a number of weeks from 1 on.'],
    ['weeks?weeks=few', 400, 'The server cannot read this: not a number of weeks.'],
    ['weeks?weeks=1.5', 400, 'The server cannot read this: not a whole number of weeks.'],
    [`weeks?swimmer=${UNKNOWN}`, 404, 'There is no such swimmer in the squad, nor has there been.'],
    ['weeks?swimmer=Ada', 400, 'The server cannot read this: not a 128-bit id in hex.'],
    ['sets?rehearsed=yes', 400, 'The server cannot read this: Invalid option: expected one of "0"|"1".'],
  ] as const)('%s is answered with %i and words', async ([path, status, message]) => {
    const server = await runServer();
    const reply = await server.ask('GET', `/api/history/${path}`);
    expect(reply.status).toBe(status);
    expect(failureSchema.parse(reply.body).message).toBe(message);
  });
});
