import { planPractice } from '../../server/planning/plan.ts';
import { parsePractice } from '../../server/planning/shorthand/parse.ts';
import { type BoardScreen, boardAt } from '../../shared-types/board/board.ts';
import { instant } from '../../shared-types/brand.ts';
import type { Sheet } from '../../shared-types/sheet.ts';
import { Coach, TOP } from '../fixtures/coach.ts';
import { type Entry, figure, type MissingEntry, timed } from './measure.ts';
import { seeded } from './seeded.ts';
import { fullText, poolOf, practiceOf, type Size, sheetOf, squadOf, TWO_HOURS } from './workloads.ts';

/** What was promised. Times in ms. */
const TARGETS = {
  compile: 20,
  /** The cost of twice the work. */
  doubling: 2.2,
  eightfold: 20,
  board: 0.1,
  /** The longest a coach should wait for the editor's messages. */
  parse: 100,
  sheetKb: 600,
} as const;

export interface BenchOptions {
  readonly seed: number;
  readonly quick: boolean;
}

/** From text to sheet, and from sheet to board. */
export function compileBench(options: BenchOptions): Entry[] {
  const twoHours = compileTime('compile of a two-hour practice', TWO_HOURS, options.quick, TARGETS.compile);
  return [
    twoHours,
    ...growthEntries(options.quick),
    parseTime(options.quick),
    ...boardEntries(options),
    ...memoryEntries(options.quick),
  ];
}

function compileTime(name: string, size: Size, quick: boolean, target?: number) {
  const [text, squad, pool] = [practiceOf(size.reps), squadOf(size), poolOf(size)];
  // A sheet that is refused costs little: make sure that there is one.
  sheetOf(size);
  return timed(name, () => planPractice(text, squad, pool), quick, target);
}

/** Each twice the work of the one before, in reps × swimmers; the third is the two-hour practice. */
const GROWTH: readonly Size[] = [
  { reps: 75, lanes: 5, swimmersPerLane: 6 },
  { reps: 150, lanes: 5, swimmersPerLane: 6 },
  { reps: 150, lanes: 10, swimmersPerLane: 6 },
  { reps: 300, lanes: 10, swimmersPerLane: 6 },
];

function growthEntries(quick: boolean): Entry[] {
  const times = GROWTH.map((size, place) => {
    const swimmers = size.lanes * size.swimmersPerLane;
    return compileTime(`compile at ${2 ** place}× (${size.reps} reps × ${swimmers} swimmers)`, size, quick);
  });
  const ratio = (from: number, to: number): number => (times[to]?.median ?? 0) / (times[from]?.median ?? 0);
  const doublings = times
    .slice(1)
    .map((_, place) =>
      figure(`growth from ${2 ** place}× to ${2 ** (place + 1)}×`, ratio(place, place + 1), '×', TARGETS.doubling),
    );
  const last = times.length - 1;
  return [...times, ...doublings, figure('growth from 1× to 8×', ratio(0, last), '×', TARGETS.eightfold)];
}

function parseTime(quick: boolean): Entry {
  const text = fullText();
  const { practice } = parsePractice(text);
  if (!practice) throw new Error('the full text cannot be read');
  return timed('parse of 64 KB', () => parsePractice(text), quick, TARGETS.parse);
}

const SHORT: Size = { reps: 25, lanes: 10, swimmersPerLane: 8 };
const LONG: Size = { reps: 250, lanes: 10, swimmersPerLane: 8 };

const boardEntries = ({ seed, quick }: BenchOptions): Entry[] =>
  [SHORT, LONG].map((size) => {
    const name = `boardAt, 10 lanes × 8 swimmers, ${size.reps} reps a lane`;
    return timed(name, boardWork(sheetOf(size), seed), quick, TARGETS.board);
  });

const INSTANTS = 4096;

/** Boards of a run that is under way, at instants all over the practice. */
function boardWork(sheet: Sheet, seed: number): () => unknown {
  const coach = new Coach(sheet);
  const answer = coach.press({ kind: 'start' }, 0);
  if (!answer.ok) throw new Error(answer.message);
  const random = seeded(seed);
  const instants = Array.from({ length: INSTANTS }, () => instant(TOP + Math.floor(random() * sheet.durationMs)));
  const screen: BoardScreen = { labels: {}, face: { timezone: 'UTC', trimMs: 0 } };
  let next = 0;
  return () => {
    const at = instants[next % INSTANTS] ?? instant(TOP);
    next += 1;
    return boardAt(sheet, coach.run, at, screen);
  };
}

function memoryEntries(quick: boolean): Entry[] {
  const rawBytes = new TextEncoder().encode(JSON.stringify(sheetOf(TWO_HOURS))).length;
  const raw = figure('two-hour sheet as JSON', rawBytes / 1024, 'KB', TARGETS.sheetKb);
  return [raw, heapEntry('two-hour sheet in memory', quick ? 4 : 40)];
}

/** What each of some sheets that are all kept adds to the heap, after the garbage is collected. */
function heapEntry(name: string, sheets: number): Entry {
  const { gc } = globalThis;
  if (!gc) return unmeasured(name);
  const kept: Sheet[] = [sheetOf(TWO_HOURS)];
  const used = (): number => {
    gc();
    return process.memoryUsage().heapUsed;
  };
  const before = used();
  while (kept.length <= sheets) kept.push(sheetOf(TWO_HOURS));
  const after = used();
  // `kept` is used here, so that nothing in it could be collected before.
  return figure(name, (after - before) / (kept.length - 1) / 1024, 'KB');
}

const unmeasured = (name: string): MissingEntry => ({
  kind: 'missing',
  name,
  why: 'the garbage collector cannot be called: start node with --expose-gc',
});
