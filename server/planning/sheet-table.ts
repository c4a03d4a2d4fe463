import type { Ms } from '../../shared-types/brand.ts';
import { withNames } from '../../shared-types/message.ts';
import { unitOf } from '../../shared-types/pool.ts';
import {
  type RepStep,
  type Sheet,
  type SheetLane,
  type Step,
  type Target,
  targetsOf,
} from '../../shared-types/sheet.ts';
import { formatClock, formatSwimTime } from '../../shared-types/time.ts';
import { workRest } from '../../shared-types/work-rest.ts';
import { suggestedSets } from './lanes/suggested-sets.ts';
import { sheetHeading } from './sheet-heading.ts';
import type { Names } from './sheet-json.ts';
import { columnsOf, flow, listed, NO_BREAK, onOneLine, PAGE_COLUMNS, sideBySide } from './text-columns.ts';

/**
 * The run sheet as text a coach can print: one table a lane, equal reps of a set on one row.
 * @param restMs the rest that suggested send-offs are to leave; null: none are asked for
 */
export function sheetTable(sheet: Sheet, names: Names, restMs: Ms | null = null): string {
  const called = Object.fromEntries(Object.entries(names).map(([id, name]) => [id, onOneLine(name)]));
  const lanes = sheet.lanes.flatMap((lane) => ['', ...laneTable(sheet, lane, called)]);
  const after = [...suggestions(sheet, restMs), ...notes(sheet, called), ''];
  return [...sheetHeading(sheet, PAGE_COLUMNS), ...lanes, ...after].join('\n');
}

function suggestions(sheet: Sheet, restMs: Ms | null): string[] {
  if (restMs === null) return [];
  const lines = suggestedSets(sheet, restMs).flatMap(({ set, byGroup }) => {
    const sendOffs = byGroup.map(({ group, cycleMs }) => `${group} ${formatClock(cycleMs)}`).join(' / ');
    const { line, words, detail } = sheet.sets[set] ?? { line: 1, words: '', detail: '' };
    const what = [words, detail].filter(Boolean).join(', ');
    return flow([onOneLine(`line ${line}, ${what}: ${sendOffs}`)], PAGE_COLUMNS - INDENT.length, 4);
  });
  const shown = lines.length > 0 ? lines : ['no set has targets to suggest them from'];
  return ['', `Send-offs that leave everybody at least ${formatClock(restMs)}`, ...shown.map((line) => INDENT + line)];
}

const INDENT = '  ';

/** Text over as many lines as it needs, all but the first indented. */
function indentedAfterFirst(pieces: readonly string[]): string[] {
  const lines = flow(pieces, PAGE_COLUMNS - INDENT.length);
  return lines.map((line, place) => (place === 0 ? line : INDENT + line));
}

/** One row of a lane's table. */
interface Row {
  /** When, which line of the practice, from which end, how long until the next; one short word each. */
  readonly at: string;
  readonly line: string;
  readonly from: string;
  readonly cycle: string;
  readonly what: string;
  /** One piece for each swimmer. */
  readonly targets: readonly string[];
}

const HEAD: Row = {
  at: 'at',
  line: 'line',
  what: 'what',
  from: 'from',
  cycle: 'cycle',
  targets: ['targets (rest, work:rest)'],
};

function laneTable(sheet: Sheet, lane: SheetLane, names: Names): string[] {
  const who = lane.swimmers.map((id, place) => `${place + 1} ${names[id] ?? ''}`.trimEnd());
  const gap = lane.swimmers.length > 1 ? [`${formatClock(lane.apartMs)} apart`] : [];
  const title = [
    `Lane ${lane.lane} ·`,
    `group ${onOneLine(lane.group)} ·`,
    `${lane.distance} ${unitOf(sheet.course)} ·`,
    ...listed([...(who.length > 0 ? who : ['nobody']), ...gap]),
  ];
  const rows = runsOf(lane.steps).map((run) => rowOf(sheet, run, names));
  return [...indentedAfterFirst(title), ...aligned([HEAD, ...rows])];
}

/** Consecutive reps that differ only in number and instant stand on one row. */
function runsOf(steps: readonly Step[]): [Step, ...Step[]][] {
  const runs: [Step, ...Step[]][] = [];
  for (const step of steps) {
    const run = runs.at(-1);
    if (run && alike(run[0], step)) run.push(step);
    else runs.push([step]);
  }
  return runs;
}

const SHARED_BY_ALIKE = ['set', 'round', 'outerRound', 'durationMs', 'effort', 'stroke', 'heats'] as const;

function alike(a: Step, b: Step): boolean {
  if (a.kind !== 'rep' || b.kind !== 'rep') return false;
  return SHARED_BY_ALIKE.every((key) => a[key] === b[key]) && a.targets.join() === b.targets.join();
}

const REST_WORDS = { rest: 'rest', between: 'rest between rounds', join: 'wait for the other lanes' } as const;

const toTenths = (valueMs: number): string => formatClock(Math.round(valueMs / 100) * 100);

function rowOf(sheet: Sheet, [first, ...more]: readonly [Step, ...Step[]], names: Names): Row {
  const row = { at: toTenths(first.atMs), line: String(first.line), from: '', cycle: '', targets: [] };
  if (first.kind === 'gate') return { ...row, what: 'wait for go' };
  if (first.kind === 'rest') return { ...row, what: REST_WORDS[first.reason], cycle: toTenths(first.durationMs) };
  return {
    ...row,
    what: repWords(sheet, first, more.length + 1),
    from: first.fromEnd,
    // Nobody knows how long an all-out rep lasts that the coach releases.
    cycle: first.durationMs > 0 ? toTenths(first.durationMs) : '',
    targets: listed(targetsOf(sheet, first).flatMap((target) => targetWords(target, names) ?? [])),
  };
}

function repWords(sheet: Sheet, step: RepStep, count: number): string {
  const size = step.distance === undefined ? formatClock(step.timedMs ?? 0) : String(step.distance);
  const round = step.round === undefined ? '' : `round ${step.round}/${step.rounds} `;
  const outer = step.outerRound === undefined ? '' : `${step.outerRound}/${step.outerRounds}, `;
  const heat = step.heat === undefined ? '' : ` heat ${step.heat}`;
  const reps = count === 1 && step.reps > 1 ? `rep ${step.rep}/${step.reps}: ` : '';
  const times = count === 1 ? '' : `${count} × `;
  const set = sheet.sets[step.set];
  const dive = step.start === 'dive' ? ' from a dive' : '';
  const activity = set && set.activity !== 'swim' ? ` ${set.activity}` : '';
  const equipment = set && set.equipment.length > 0 ? ` with ${set.equipment.join(' + ')}` : '';
  return `${outer}${round}${reps}${times}${size} ${step.stroke}${activity}${dive}${heat}${step.effort ? ` ${step.effort}` : ''}${equipment}`;
}

/** `Ada Vance 30.00 → ~1:16.15 easy (8.8, 1:0.1)`; null where there is nothing to hold. */
function targetWords({ swimmer, ms, restMs, splits }: Target, names: Names): string | null {
  if (splits.length === 0) return null;
  const times = splits.map(({ ms: at, paced, estimated }) => {
    const time = formatSwimTime(at, 2);
    if (!paced) return `~${time}${NO_BREAK}easy`;
    return estimated ? `~${time}` : time;
  });
  return [names[swimmer] ?? '', times.join(` →${NO_BREAK}`), restWords(ms, restMs)].filter(Boolean).join(' ');
}

/** `(40.0, 1:1.3)`: the rest after the touch and work:rest. */
function restWords(ms: number | null, restMs: number | null): string {
  if (restMs === null) return '';
  if (restMs < 0) return `(${formatSwimTime(-restMs, 1)} too slow)`.replaceAll(' ', NO_BREAK);
  const ratio = workRest(ms, restMs);
  return `(${formatSwimTime(restMs, 1)}${ratio === null ? '' : `,${NO_BREAK}${ratio}`})`;
}

/** Narrowest and widest that the column `what` is made; between them it leaves the longest target room on one line. */
const LEAST_WHAT = 16;
const MOST_WHAT = 40;
const GAPS = 5 * 2;

const widest = (texts: readonly string[]): number => Math.max(0, ...texts.map(columnsOf));

function aligned(rows: readonly Row[]): string[] {
  const [at, line, from, cycle] = (['at', 'line', 'from', 'cycle'] as const).map((key) =>
    widest(rows.map((row) => row[key])),
  );
  const widths = { at: at ?? 0, line: line ?? 0, from: from ?? 0, cycle: cycle ?? 0 };
  const left = PAGE_COLUMNS - INDENT.length - GAPS - widths.at - widths.line - widths.from - widths.cycle;
  const room = Math.max(LEAST_WHAT, left - widest(rows.flatMap(({ targets }) => targets)));
  const what = Math.min(widest(rows.map((row) => row.what)), room, MOST_WHAT);
  return rows.flatMap((row) => {
    const whatLines = flow([row.what], what, 2);
    const targetLines = flow(row.targets, left - what, 2);
    const cells = [[row.at], [row.line], whatLines, [row.from], [row.cycle], targetLines];
    const columns = [widths.at, widths.line, what, widths.from, widths.cycle, 0];
    return sideBySide(cells, columns).map((text) => INDENT + text);
  });
}

function notes(sheet: Sheet, names: Names): string[] {
  if (sheet.messages.length === 0) return [];
  const lines = sheet.messages.flatMap(({ severity, code, line, lane, text, fix }) => {
    const where = lane === undefined ? `line ${line}` : `line ${line}, lane ${lane}`;
    const cure = fix === undefined ? '' : ` (${fix})`;
    const note = onOneLine(`${severity} ${code}, ${where}: ${withNames(text, names)}${cure}`);
    return flow([note], PAGE_COLUMNS - INDENT.length, 4);
  });
  return ['', 'To look at', ...lines.map((line) => INDENT + line)];
}
