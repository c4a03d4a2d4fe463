import Papa from 'papaparse';
import { expect, test } from 'vitest';
import { z } from 'zod';
import { randomId } from '../../server/ids.ts';
import { SteppedClock } from '../../server/rehearsal/clock.ts';
import { Rehearsal, type RehearsalResult } from '../../server/rehearsal/rehearsal.ts';
import { marksOf } from '../../shared-types/marks.ts';
import { failureSchema } from '../../shared-types/wire/from-server.ts';
import { resultsAnswerSchema } from '../../shared-types/wire/results.ts';
import { paired } from '../fixtures/paired.ts';
import { pool25 } from '../fixtures/planning.ts';
import { type RunningServer, runServer, runServerOn, withRun } from '../fixtures/running-server.ts';

const REHEARSED = {
  practiceText:
    '# =1+1\n\nPace: race pace\n4 x 50 free @ 1:00 at 200 pace\n\nAverage: best average\n6 x 100 free @ 2:00 max\n',
  squadCsv: `swimmer,lane,event,course,time
"=HYPERLINK(""http://pool.test"",""Ada"")",1,200 free,SCM,2:00.00
"Zoë, ""the Fin"" Sorn",1,200 free,SCM,2:02.00
`,
  pool: pool25,
};

const ESCAPED = `'=HYPERLINK("http://pool.test","Ada")`;
const ZOE = 'Zoë, "the Fin" Sorn';

interface Exported {
  readonly server: RunningServer<SteppedClock>;
  readonly result: RehearsalResult;
  readonly path: string;
}

async function rehearsed(): Promise<Exported> {
  const server = await runServerOn(new SteppedClock(Date.UTC(2027, 0, 15, 12)));
  const { url, machine: clock } = server;
  const rehearsal = await Rehearsal.prepared({ server: paired(url), clock, newId: randomId, seed: 7 }, REHEARSED);
  const result = await rehearsal.run();
  return { server, result, path: `/api/runs/${result.followed.run.id}/results` };
}

const rowSchema = z.record(z.string(), z.string());

/** What papaparse reads back of a CSV with a header. */
function rowsOf(csv: string): Record<string, string>[] {
  const { data, errors } = Papa.parse(csv, { header: true, skipEmptyLines: true });
  expect(errors).toEqual([]);
  return z.array(rowSchema).parse(data);
}

test('results and marks are read back from the CSV as the server has them', async () => {
  const { server, result, path } = await rehearsed();
  const reply = await server.ask('GET', `${path}.csv?role=desk`);
  expect(reply.headers).toMatchObject({
    'content-type': 'text/csv; charset=utf-8',
    'content-disposition': 'attachment; filename="results-2027-01-15.csv"',
  });
  const rows = rowsOf(reply.bytes.toString());
  const { sets } = resultsAnswerSchema.parse((await server.ask('GET', `${path}?role=desk`)).body);
  const swimmers = sets.flatMap((set) => set.swimmers);
  const ofKind = (kind: string) => rows.filter(({ record }) => record === kind);
  // An empty cell where nothing is known; milliseconds as seconds with a decimal point.
  const inMs = (cell: string | undefined): number | null => (cell ? Math.round(Number(cell) * 1000) : null);
  expect(ofKind('rep').map(({ time_s }) => inMs(time_s))).toEqual(
    swimmers.flatMap(({ reps }) => reps.map(({ ms }) => ms)),
  );
  expect(ofKind('set').map(({ held }) => Number(held))).toEqual(swimmers.map(({ hits }) => hits.hits));
  expect(ofKind('set').map(({ mean_s }) => Number(mean_s))).toEqual(
    swimmers.map(({ spread }) => Math.round(Number(spread.meanMs)) / 1000),
  );
  const marks = marksOf(result.followed.book);
  expect(
    ofKind('mark').map(({ time_s, state, taken_at }) => [inMs(time_s), state, Date.parse(taken_at ?? '')]),
  ).toEqual(marks.map(({ ms, state, pressedAt }) => [ms, state, pressedAt]));
});

test('no cell of the CSV is a formula, and none is harmed otherwise', async () => {
  const { server, path } = await rehearsed();
  const rows = rowsOf((await server.ask('GET', `${path}.csv?role=desk`)).bytes.toString());
  expect(new Set(rows.map(({ swimmer }) => swimmer))).toEqual(new Set([ESCAPED, ZOE]));
  expect(new Set(rows.map(({ practice }) => practice))).toEqual(new Set(["'=1+1"]));
  const text = rows.flatMap((row) => Object.values(row)).filter((cell) => !/^-?\d+(\.\d+)?$/.test(cell));
  // CWE-1236, and OWASP ASVS 5.0, 1.2.10.
  expect(text.filter((cell) => /^[=+\-@\t\r\n]/.test(cell))).toEqual([]);
  const negative = rows.flatMap(({ finish_s, over_per_100_s }) => [finish_s, over_per_100_s]);
  expect(negative.some((cell) => Number(cell) < 0)).toBe(true);
});

test('the CSV opens with a byte order mark when it is asked for, and has short names on a deck', async () => {
  const { server, path } = await rehearsed();
  const [plain, marked] = await Promise.all(['', '?bom=1'].map((query) => server.ask('GET', `${path}.csv${query}`)));
  expect(marked?.bytes.subarray(0, 3)).toEqual(Buffer.from([0xef, 0xbb, 0xbf]));
  expect(marked?.bytes.subarray(3)).toEqual(plain?.bytes);
  expect(plain?.bytes.toString()).toContain('Zoë,');
  expect(rowsOf(plain?.bytes.toString() ?? '').some(({ swimmer }) => swimmer === ZOE)).toBe(false);
});

test.for([
  [`/api/runs/${'0'.repeat(32)}/results.csv`, 404, 'The server has never had such a practice.'],
  ['LIVE?role=wall', 403, 'Results are for decks and desks only.'],
  ['LIVE?bom=yes', 400, 'The server cannot read this: Invalid option: expected one of "0"|"1".'],
] as const)('%s is answered with %i and words', async ([path, status, message]) => {
  const server = await runServer();
  const { id } = await withRun(server);
  const reply = await server.ask('GET', path.replace('LIVE', `/api/runs/${id}/results.csv`));
  expect(reply.status).toBe(status);
  expect(failureSchema.parse(reply.body).message).toBe(message);
});
