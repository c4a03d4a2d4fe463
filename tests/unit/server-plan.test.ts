import { describe, expect, test } from 'vitest';
import { randomId } from '../../server/ids.ts';
import { planPractice } from '../../server/planning/plan.ts';
import { plannedSets } from '../../server/planning/planned-volume.ts';
import { styleSums } from '../../server/results/week.ts';
import { mondayOf } from '../../server/running/week-plan.ts';
import type { PracticeId } from '../../shared-types/brand.ts';
import { storedPracticeSchema } from '../../shared-types/wire/desk.ts';
import { failureSchema } from '../../shared-types/wire/from-server.ts';
import {
  copiedWeekSchema,
  type PlannedDay,
  plannedDaySchema,
  type WeekPlan,
  weekPlanSchema,
} from '../../shared-types/wire/plan.ts';
import { HandMachineClock } from '../fixtures/machine-clock.ts';
import { best, pool25, swimmer } from '../fixtures/planning.ts';
import { type RunningServer, runServer } from '../fixtures/running-server.ts';
import { Season } from '../fixtures/swum-season.ts';

/** Wednesday 6 January 2027, 18:00 in Lisbon, where it is winter. */
const WEDNESDAY = Date.UTC(2027, 0, 6, 18);
const [MONDAY, TUESDAY, THE_DAY] = ['2027-01-04', '2027-01-05', '2027-01-06'];

const [ADA, BO] = [
  swimmer('Ada Vance', 1, 'A', [best('200 free', '2:00.00')]),
  swimmer('Bo Tarn', 2, 'B', [best('200 free', '2:20.00')]),
];

/** Ada swims 400 in 8:00, Bo 300 in 7:00; both 200 in 4:00. */
const PACE = `# Pace

Main: race pace
4/3 x 100 free @ 2:00/2:20 at 200 pace

Pull: aerobic
4 x 50 free pull @ 1:00 easy
`;
const POWER = '# Power\n\nMain: power\n6 x 25 free max with parachute @ 1:30\n';

type Asking = Pick<RunningServer, 'ask'>;

async function saved({ ask }: Asking, text: string): Promise<PracticeId> {
  const reply = await ask('PUT', `/api/practices/${randomId()}`, { body: { text, baseVersion: 0 } });
  return storedPracticeSchema.parse(reply.body).id;
}

interface Pool {
  readonly server: RunningServer<HandMachineClock>;
  readonly pace: PracticeId;
  readonly power: PracticeId;
}

async function pool(): Promise<Pool> {
  const server = await runServer({ machine: new HandMachineClock({ wallMs: WEDNESDAY }) });
  server.farwall.store.squad.replace({ swimmers: [ADA, BO] }, false);
  return { server, pace: await saved(server, PACE), power: await saved(server, POWER) };
}

async function planOf({ ask }: Asking, query = ''): Promise<WeekPlan> {
  const reply = await ask('GET', `/api/plan${query}`);
  expect(reply.status, JSON.stringify(reply.body)).toBe(200);
  return weekPlanSchema.parse(reply.body);
}

async function planned(
  { ask }: Asking,
  day: string,
  practices: readonly PracticeId[],
  instead: readonly PracticeId[] = [],
): Promise<PlannedDay> {
  const reply = await ask('PUT', `/api/plan/${day}`, { body: { practices, instead } });
  expect(reply.status, JSON.stringify(reply.body)).toBe(200);
  return plannedDaySchema.parse(reply.body);
}

const titlesOf = ({ days }: WeekPlan): (string | null)[][] =>
  days.map(({ practices }) => practices.map(({ title }) => title));

describe('the week', () => {
  // Known days: 1 Jan 2027 is a Friday, 29 Feb 2028 a Tuesday; weeks begin on Mondays (ISO 8601).
  test.for([
    ['2027-01-06', '2027-01-04'],
    ['2027-01-04', '2027-01-04'],
    ['2027-01-01', '2026-12-28'],
    ['2027-01-10', '2027-01-04'],
    ['2028-02-29', '2028-02-28'],
  ] as const)('of %s begins on %s', ([day, monday]) => {
    expect(mondayOf(day)).toBe(monday);
    expect(new Date(`${monday}T00:00:00Z`).getUTCDay()).toBe(1);
  });

  test('of today is shown, Monday first, and nothing is planned in it at first', async () => {
    const { server } = await pool();
    const plan = await planOf(server);
    expect(plan.today).toBe(THE_DAY);
    expect(plan.days.map(({ day }) => day)).toEqual([
      MONDAY,
      TUESDAY,
      THE_DAY,
      '2027-01-07',
      '2027-01-08',
      '2027-01-09',
      '2027-01-10',
    ]);
    expect(plan.planned).toEqual({ day: '2027-01-10', byStyle: [], leftOut: expect.arrayContaining(['race pace']) });
    expect(plan.swum.byStyle).toEqual([]);
  });

  test('has what each practice comes to, each set once with the mean of those who swim it, and what it leaves out', async () => {
    const { server, pace, power } = await pool();
    await planned(server, MONDAY, [pace]);
    await planned(server, THE_DAY, [pace, power]);
    const plan = await planOf(server);
    expect(titlesOf(plan)).toEqual([['Pace'], [], ['Pace', 'Power'], [], [], [], []]);
    // By hand: (400 + 300) / 2 m in (8 + 7) / 2 min of race pace and 200 m in 4 min of aerobic a time; 6 × 25 on 1:30.
    expect(plan.days[0]?.practices[0]?.byStyle).toEqual([
      { style: 'race pace', sets: 1, metres: 350, minutes: 7.5 },
      { style: 'aerobic', sets: 1, metres: 200, minutes: 4 },
    ]);
    expect(plan.planned.byStyle).toEqual([
      { style: 'race pace', sets: 2, metres: 700, minutes: 15 },
      { style: 'power', sets: 1, metres: 150, minutes: 9 },
      { style: 'aerobic', sets: 2, metres: 400, minutes: 8 },
    ]);
    expect(plan.planned.leftOut).toEqual(['active rest', 'best average', 'stand-up', 'threshold', 'skills']);
  });

  test('has beside it what was swum, which comes to the same when the practice was swum as it is planned', async () => {
    const { server, pace } = await pool();
    await planned(server, THE_DAY, [pace]);
    const { farwall, machine } = server;
    const season = new Season(farwall, { now: farwall.clock.now, pass: (byMs) => machine.pass(byMs) });
    const run = season.until(WEDNESDAY + 60_000).swim(PACE, { timeOf: () => 65 });
    season.until(WEDNESDAY + 3_600_000).swim(POWER, { timeOf: () => 12, rehearsed: true });
    const plan = await planOf(server);
    expect(plan.days.map(({ swum }) => swum)).toEqual([[], [], [{ run, title: 'Pace' }], [], [], [], []]);
    expect(plan.swum.byStyle).toEqual(plan.planned.byStyle);
    expect((await planOf(server, '?from=2027-01-11')).swum.byStyle).toEqual([]);
  });

  test('keeps its plan through a restart, and copies it onto the days of another that have nothing yet', async () => {
    const { server, pace, power } = await pool();
    await planned(server, MONDAY, [pace]);
    await planned(server, TUESDAY, [power, pace]);
    await planned(server, '2027-01-12', [power]);
    await server.farwall.close();
    const again = await runServer({ folder: server.folder, machine: new HandMachineClock({ wallMs: WEDNESDAY }) });
    const copy = { from: MONDAY, to: '2027-01-11' };
    const copied = await again.ask('POST', '/api/plan/copy', { body: copy });
    expect(copiedWeekSchema.parse(copied.body)).toEqual({ copied: 1, kept: 1 });
    const next = await planOf(again, '?from=2027-01-11');
    expect(titlesOf(next)).toEqual([['Pace'], ['Power'], [], [], [], [], []]);
    expect(titlesOf(await planOf(again))).toEqual([['Pace'], ['Power', 'Pace'], [], [], [], [], []]);
  });
});

describe('a day that is planned', () => {
  test('is told to the second desk as it is now, when another one planned it in between', async () => {
    const { server, pace, power } = await pool();
    await planned(server, MONDAY, [pace]);
    const late = await server.ask('PUT', `/api/plan/${MONDAY}`, { body: { practices: [power], instead: [] } });
    expect(late.status).toBe(409);
    expect(late.body).toMatchObject({
      code: 'planned-in-between',
      current: { day: MONDAY, practices: [{ practice: pace, title: 'Pace' }] },
    });
    expect(titlesOf(await planOf(server))[0]).toEqual(['Pace']);
    // The same again, as after a lost answer, is no conflict.
    expect(await planned(server, MONDAY, [pace])).toMatchObject({ practices: [{ practice: pace }] });
    expect(await planned(server, MONDAY, [], [pace])).toEqual({ day: MONDAY, practices: [] });
  });

  test('goes by the newest version of its practice; of one with errors nothing is said but its name', async () => {
    const { server, pace } = await pool();
    await planned(server, MONDAY, [pace]);
    const body = { text: '# Pace, slipped\n\nMain\n4 x 50 free @ 1;00\n', baseVersion: 1 };
    expect((await server.ask('PUT', `/api/practices/${pace}`, { body })).status).toBe(200);
    expect((await planOf(server)).days[0]?.practices).toEqual([
      { practice: pace, title: 'Pace, slipped', byStyle: [] },
    ]);
  });

  test.for([
    ['/api/plan/monday', { practices: [], instead: [] }, 400, /not a date like 2027-01-15/],
    ['/api/plan/2027-02-30', { practices: [], instead: [] }, 400, /not a date like 2027-01-15/],
    ['/api/plan/2027-01-04', { practices: ['0'.repeat(32)], instead: [] }, 404, /not in the library/],
    ['/api/plan/2027-01-04', { practices: [], instead: 'all' }, 400, /The server cannot read this/],
  ] as const)('%s with %j is answered with %i and words', async ([path, body, status, message]) => {
    const server = await runServer();
    const reply = await server.ask('PUT', path, { body });
    expect(reply.status).toBe(status);
    expect(failureSchema.parse(reply.body).message).toMatch(message);
  });

  test('holds a practice once, and six at most', async () => {
    const { server, pace } = await pool();
    const twice = await server.ask('PUT', `/api/plan/${MONDAY}`, { body: { practices: [pace, pace], instead: [] } });
    expect(failureSchema.parse(twice.body).message).toMatch(/the same practice twice on a day/);
    const seven = Array.from({ length: 7 }, () => randomId());
    const many = await server.ask('PUT', `/api/plan/${MONDAY}`, { body: { practices: seven, instead: [] } });
    expect(failureSchema.parse(many.body).message).toMatch(/more than the 6 practices/);
  });
});

test('before there is a squad each lane counts as one swimmer', () => {
  const { sheet } = planPractice('Main: race pace\n4 x 50 free @ 1:00\n', { swimmers: [] }, pool25);
  if (!sheet) throw new Error('the practice cannot be read');
  expect(styleSums(plannedSets(sheet))).toEqual([{ style: 'race pace', sets: 1, metres: 200, minutes: 4 }]);
});
