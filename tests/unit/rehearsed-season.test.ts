import { mean } from 'simple-statistics';
import { expect, test } from 'vitest';
import { seasonChart } from '../../client/desk/season-chart.ts';
import { seasonRows } from '../../client/desk/season-figures.ts';
import { randomId } from '../../server/ids.ts';
import { SteppedClock } from '../../server/rehearsal/clock.ts';
import { Rehearsal } from '../../server/rehearsal/rehearsal.ts';
import type { SwimmerId } from '../../shared-types/brand.ts';
import { type Mark, marksOf } from '../../shared-types/marks.ts';
import { setHistoryAnswerSchema, setKindsAnswerSchema, weeksAnswerSchema } from '../../shared-types/wire/history.ts';
import { type ResultsAnswer, resultsAnswerSchema } from '../../shared-types/wire/results.ts';
import { paired } from '../fixtures/paired.ts';
import { pool25 } from '../fixtures/planning.ts';
import { type RunningServer, runServerOn } from '../fixtures/running-server.ts';
import { temporaryFolder } from '../fixtures/temporary-folder.ts';

/** The same practice rehearsed on five Thursdays, each of a server of its own on the same data. */

const FIRST_THURSDAY = Date.UTC(2027, 0, 7, 17);
const WEEK_MS = 7 * 24 * 3_600_000;
const WEEKS = [0, 1, 2, 3, 4];
/** In the fourth week, in the third of six hundreds on 2:00, the server is started again. */
const RESTARTED = { week: 3, afterMs: 5 * 60_000 };

const REHEARSED = {
  practiceText:
    '# Thursday\n\nAverage: best average\n6 x 100 free @ 2:00 max\n\nPace: race pace\n8 x 50 free @ 1:00 at 200 pace\n',
  squadCsv: `swimmer,lane,event,course,time,kind
Ada Vance,1,200 free,SCM,2:00.00,best
,,100 free,SCM,56.00,best
Cato Lind,2,200 free,SCM,2:10.00,best
,,100 free,SCM,1:01.00,best
`,
  pool: pool25,
  asRehearsed: true,
} as const;

/** Does something once, when so much time has gone by. */
class InterruptedClock extends SteppedClock {
  readonly #afterMs: number;
  #work: (() => Promise<void>) | null = null;

  constructor(wallMs: number, afterMs: number) {
    super(wallMs);
    this.#afterMs = afterMs;
  }

  interrupt(work: () => Promise<void>): void {
    this.#work = work;
  }

  override async towards(monotonicMs: number): Promise<void> {
    await super.towards(monotonicMs);
    if (!this.#work || this.monotonicMs() < this.#afterMs) return;
    const work = this.#work;
    this.#work = null;
    await work();
  }
}

interface Week {
  readonly marks: readonly Mark[];
  readonly results: ResultsAnswer;
  /** Times that were stored when the server was started again; null: it was not. */
  readonly storedBefore: number | null;
}

async function rehearsedIn(week: number, folder: string): Promise<{ swum: Week; server: RunningServer<SteppedClock> }> {
  const clock = new InterruptedClock(FIRST_THURSDAY + week * WEEK_MS, RESTARTED.afterMs);
  let server: RunningServer<SteppedClock> = await runServerOn(clock, { folder });
  const { url } = server;
  let storedBefore: number | null = null;
  if (week === RESTARTED.week) {
    clock.interrupt(async () => {
      storedBefore = server.farwall.store.runList.page(1, null).runs[0]?.times ?? null;
      await server.farwall.close();
      server = await runServerOn(clock, { folder, port: Number(new URL(url).port) });
    });
  }
  const rehearsal = await Rehearsal.prepared(
    { server: paired(url), clock, newId: randomId, seed: 40 + week },
    REHEARSED,
  );
  const { finished, followed, results, tally } = await rehearsal.run();
  expect({ finished, refused: tally.refused, unstored: tally.marksSent - tally.marksStored }).toEqual({
    finished: true,
    refused: 0,
    unstored: 0,
  });
  return { swum: { marks: marksOf(followed.book), results, storedBefore }, server };
}

async function season(): Promise<{ weeks: readonly Week[]; server: RunningServer<SteppedClock> }> {
  const folder = temporaryFolder();
  const weeks: Week[] = [];
  let last: RunningServer<SteppedClock> | null = null;
  for (const week of WEEKS) {
    await last?.farwall.close();
    const { swum, server } = await rehearsedIn(week, folder);
    weeks.push(swum);
    last = server;
  }
  if (!last) throw new Error('no week was rehearsed');
  return { weeks, server: last };
}

/** The mean of the swimmer's marks on the first set, line 4 of the practice. */
const meanOfMarks = ({ marks }: Week, swimmer: SwimmerId): number =>
  mean(
    marks.flatMap((mark) =>
      mark.swimmer === swimmer && mark.state === 'counts' && mark.step.startsWith('4.') ? (mark.ms ?? []) : [],
    ),
  );

test('five rehearsed weeks make the season of a set, through a server that is started again in the middle of a rep', async () => {
  const { weeks, server } = await season();
  const { ask } = server;

  // Nothing of it is lost: what was stored before is there after, and all of the practice is timed.
  const restarted = weeks[RESTARTED.week];
  expect(restarted?.storedBefore).toBeGreaterThan(2);
  expect(restarted?.marks.filter(({ state }) => state === 'counts').length).toBeGreaterThan(20);
  const again = await ask('GET', `/api/runs/${restarted?.results.run.id}/results?role=desk`);
  expect(resultsAnswerSchema.parse(again.body).sets).toEqual(restarted?.results.sets);

  // Nobody has swum it, so it counts only when it is asked for.
  const kindsOf = async (rehearsed: 0 | 1) =>
    setKindsAnswerSchema.parse((await ask('GET', `/api/history/sets?rehearsed=${rehearsed}`)).body).kinds;
  expect(await kindsOf(0)).toEqual([]);
  const kind = (await kindsOf(1)).find(({ style }) => style === 'best average');
  expect(kind).toMatchObject({ occurrences: 5, swimmers: 2 });

  const path = `/api/history/set?signature=${encodeURIComponent(kind?.signature ?? '')}&rehearsed=1`;
  const history = setHistoryAnswerSchema.parse((await ask('GET', path)).body);
  expect(history.occurrences.map(({ at }) => Math.round((at - FIRST_THURSDAY) / WEEK_MS))).toEqual(WEEKS);
  const swimmers = history.occurrences[0]?.swimmers.map(({ swimmer }) => swimmer) ?? [];
  expect(swimmers.map((swimmer) => history.labels[swimmer])).toEqual(['Ada Vance', 'Cato Lind']);

  const face = { timezone: 'Europe/Lisbon', trimMs: 0 };
  for (const swimmer of swimmers) {
    const means = weeks.map((week) => meanOfMarks(week, swimmer));
    const chart = seasonChart({ history, of: swimmer }, face);
    const own = chart.lines.find(({ ink, joins }) => ink === 'chief' && joins === 'all');
    expect(own?.values.map((value) => value?.toFixed(6))).toEqual(means.map((value) => value.toFixed(6)));
    expect(chart.ticks.map(({ text }) => text)).toEqual(['7 Jan', '14 Jan', '21 Jan', '28 Jan', '4 Feb']);
    // From week to week, on the season's page and in the practice's own results.
    const changes = seasonRows(history.occurrences, swimmer).map(({ change }) => change?.ms ?? null);
    const expected = means.map((value, week) => (week === 0 ? null : value - (means[week - 1] ?? Number.NaN)));
    expect(changes.map((value) => value?.toFixed(6))).toEqual(expected.map((value) => value?.toFixed(6)));
    const told = weeks.map(({ results }) => results.sets[0]?.swimmers.find((one) => one.swimmer === swimmer)?.change);
    expect(told.map((change) => change && 'meanMs' in change && change.meanMs)).toEqual([
      false,
      ...expected.slice(1).map((value) => expect.closeTo(value ?? Number.NaN, 6)),
    ]);
  }

  const { weeks: byStyle } = weeksAnswerSchema.parse(
    (await ask('GET', '/api/history/weeks?day=2027-02-04&weeks=5&rehearsed=1')).body,
  );
  for (const week of byStyle) {
    // 6 × 100 on 2:00 and 8 × 50 on 1:00.
    expect(week.byStyle).toEqual([
      { style: 'race pace', sets: 1, metres: 400, minutes: 8 },
      { style: 'best average', sets: 1, metres: 600, minutes: 12 },
    ]);
    expect(week.leftOut).toEqual(expect.arrayContaining(['active rest', 'stand-up', 'power']));
  }
}, 60_000);
