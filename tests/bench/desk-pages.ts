import { dateOf } from '../../server/results/calendar.ts';
import { STYLES } from '../../shared-types/practice.ts';
import type { StoredPractice } from '../../shared-types/wire/desk.ts';
import { SET_KINDS_A_PAGE, WEEKS_A_PAGE } from '../../shared-types/wire/history.ts';
import { RUNS_A_PAGE } from '../../shared-types/wire/results.ts';
import { SWIMMER_SETS_A_PAGE } from '../../shared-types/wire/swimmer.ts';
import type { Question } from './asked.ts';

/** What a desk asks the server, page by page: the questions of `client/desk/` in the order in which it asks them. */

/** What is asked when something is opened: step after step, the questions of a step at once. */
export type Visit = readonly (readonly Question[])[];

/** By what is opened; another visit each time. */
export type Visits = ReadonlyMap<string, () => Visit>;

/** What there is to ask about; none of the lists is empty. */
export interface Known {
  /** The practice that was saved last: the desk opens it first. */
  readonly newest: StoredPractice;
  readonly others: readonly StoredPractice[];
  readonly runs: readonly string[];
  readonly signatures: readonly string[];
  /** Those who have a lane. */
  readonly swimmers: readonly string[];
  /** The squad as a file. */
  readonly csv: string;
  /** Days on which something was saved, by their numbers. */
  readonly days: { readonly first: number; readonly last: number };
}

const asked = (...paths: readonly string[]): Question[] => paths.map((path) => ({ path }));

const previewOf = ({ text }: StoredPractice): Question[] => [{ path: '/api/preview', body: { text } }];

const SQUAD = ['/api/squad', '/api/pool', '/api/squad/before', '/api/squad/absences'];

const opened = (practice: StoredPractice): Visit => [asked(`/api/practices/${practice.id}`), previewOf(practice)];

/** Draws one of some things. */
const drawing =
  (random: () => number) =>
  <T>(things: readonly T[], instead: T): T =>
    things[Math.floor(random() * things.length)] ?? instead;

/** The page that practices are written on. */
function writingVisits({ newest, others }: Known, random: () => number): Visits {
  const one = drawing(random);
  const first = asked('/api/practices', ...SQUAD, '/api/demo');
  return new Map<string, () => Visit>([
    ['the desk opens, on a practice of two hours', () => [first, ...opened(newest)]],
    ['another practice is opened', () => opened(one(others, newest))],
    ['preview of two hours, as it is written', () => [previewOf(newest)]],
    [
      'versions of a practice',
      () => {
        const { id, version } = one(others, newest);
        const path = `/api/practices/${id}`;
        return [asked(`${path}/versions`), asked(`${path}?version=${Math.max(1, version - 1)}`)];
      },
    ],
  ]);
}

/** The pages that the squad is looked after on. */
function squadVisits({ swimmers, csv }: Known, random: () => number): Visits {
  const one = drawing(random);
  const swimmer = (): string => `/api/squad/swimmers/${one(swimmers, '')}?limit=${SWIMMER_SETS_A_PAGE.usual}`;
  return new Map<string, () => Visit>([
    ['the squad, its pool and who is away', () => [asked(...SQUAD)]],
    ["a swimmer's page", () => [asked(swimmer())]],
    ['a squad file is looked at', () => [[{ path: '/api/preview/squad', body: { csv, fileName: 'squad.csv' } }]]],
  ]);
}

/** The pages that are about what is planned. What is on the wall is told over the socket. */
const plannedVisits = (): Visits =>
  new Map<string, () => Visit>([
    // As the first page that is opened: it also says who is here.
    ['Today, what is planned and who is here', () => [asked('/api/plan', ...SQUAD)]],
    ["the week's plan", () => [asked('/api/plan')]],
  ]);

const weeks = (count: number): string => `/api/history/weeks?weeks=${count}&rehearsed=0`;

/** The pages that are about what was swum. */
function swumVisits(known: Known, random: () => number): Visits {
  const one = drawing(random);
  const [last = ''] = known.runs;
  const results = (run: string): Question[] => asked(`/api/runs/${run}/results?role=desk`);
  const season = (): string => encodeURIComponent(one(known.signatures, ''));
  return new Map<string, () => Visit>([
    ['results, of the last practice', () => [asked(`/api/runs?limit=${RUNS_A_PAGE.usual}`), results(last)]],
    ['results, of another practice', () => [results(one(known.runs, last))]],
    ['results, older practices', () => [asked(`/api/runs?limit=${RUNS_A_PAGE.usual}&before=${one(known.runs, last)}`)]],
    [
      'a set over the season',
      () => [
        asked(
          `/api/history/sets?limit=${SET_KINDS_A_PAGE.usual}&rehearsed=0`,
          `/api/history/set?signature=${season()}&rehearsed=0`,
        ),
      ],
    ],
    ['weeks, of the squad', () => [asked(weeks(WEEKS_A_PAGE.usual))]],
    ['weeks, of a swimmer', () => [asked(`${weeks(WEEKS_A_PAGE.usual)}&swimmer=${one(known.swimmers, '')}`)]],
    ['weeks, a whole year', () => [asked(weeks(WEEKS_A_PAGE.most))]],
  ]);
}

export const pageVisits = (known: Known, random: () => number): Visits =>
  new Map([
    ...writingVisits(known, random),
    ...squadVisits(known, random),
    ...plannedVisits(),
    ...swumVisits(known, random),
  ]);

/** Words that some of the practices have in them. */
const WORDS = ['free', 'tall hips', 'parachute', 'fly best average', 'threshold'];
/** About a month. */
const SPAN_DAYS = 30;
const STEP_METRES = 500;

/** The library, searched by one thing after the other. */
export function searchVisits({ days }: Known, random: () => number): Visits {
  const one = drawing(random);
  const search = (fields: Readonly<Record<string, string>>): Visit => [
    asked(`/api/practices/search?${new URLSearchParams(fields)}`),
  ];
  const span = (): Readonly<Record<string, string>> => {
    const from = days.first + Math.floor(random() * (days.last - days.first));
    return { from: dateOf(from), to: dateOf(from + SPAN_DAYS) };
  };
  const distance = (): Readonly<Record<string, string>> => {
    const least = Math.floor(random() * 6) * STEP_METRES;
    return { least: String(least), most: String(least + STEP_METRES) };
  };
  const text = (): Readonly<Record<string, string>> => ({ text: one(WORDS, '') });
  const style = (): Readonly<Record<string, string>> => ({ style: one(STYLES, 'aerobic') });
  return new Map<string, () => Visit>([
    ['by text', () => search(text())],
    ['by style', () => search(style())],
    ['by date', () => search(span())],
    ['by distance', () => search(distance())],
    [
      'by all of them',
      () => search({ ...text(), ...style(), ...distance(), from: dateOf(days.first), to: dateOf(days.last) }),
    ],
  ]);
}
