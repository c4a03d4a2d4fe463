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
import type { Names } from './sheet-json.ts';

/** The run sheet as text a coach can print: one table a lane, equal reps of a set on one row. */
export function sheetTable(sheet: Sheet, names: Names): string {
  const lanes = sheet.lanes.flatMap((lane) => ['', ...laneTable(sheet, lane, names)]);
  return [...heading(sheet), ...lanes, ...notes(sheet, names), ''].join('\n');
}

function heading(sheet: Sheet): string[] {
  const unit = unitOf(sheet.course);
  const { percent, pace, easyShare } = sheet.conventions;
  const styles = Object.entries(sheet.byStyle).map(
    ([style, { distance, sets, minutes }]) =>
      `  ${style}: ${distance} ${unit}, ${sets} set${sets === 1 ? '' : 's'}, ${minutes} min`,
  );
  return [
    sheet.title ?? 'Practice',
    `${sheet.course} · ${sheet.distance} ${unit} · ${formatClock(sheet.durationMs)} without waits for go`,
    `percent is of ${percent}; race pace is the ${pace} pace; easy is ${Math.round(easyShare * 100)} % of 200-pace speed`,
    ...styles,
  ];
}

interface Row {
  readonly atMs: number;
  readonly cells: readonly string[];
}

const HEAD = ['at', 'line', 'what', 'from', 'cycle', 'targets (rest)'];

function laneTable(sheet: Sheet, lane: SheetLane, names: Names): string[] {
  const who = lane.swimmers.map((id, place) => `${place + 1} ${names[id] ?? ''}`).join(', ');
  const gap = lane.swimmers.length > 1 ? `, ${formatClock(lane.apartMs)} apart` : '';
  const title = `Lane ${lane.lane} · group ${lane.group} · ${lane.distance} ${unitOf(sheet.course)} · ${who || 'nobody'}${gap}`;
  const rows = runsOf(lane.steps).map((run) => rowOf(sheet, run, names));
  return [title, ...aligned([HEAD, ...rows.map(({ cells }) => cells)])];
}

/** Consecutive reps that differ only in number and instant stand on one row. */
function runsOf(steps: readonly Step[]): Step[][] {
  const runs: Step[][] = [];
  for (const step of steps) {
    const run = runs.at(-1);
    const last = run?.at(-1);
    if (run && last && alike(last, step)) run.push(step);
    else runs.push([step]);
  }
  return runs;
}

function alike(a: Step, b: Step): boolean {
  if (a.kind !== 'rep' || b.kind !== 'rep') return false;
  const same = (key: 'set' | 'round' | 'outerRound' | 'durationMs' | 'effort' | 'stroke' | 'heats'): boolean =>
    a[key] === b[key];
  return (
    same('set') &&
    same('round') &&
    same('outerRound') &&
    same('durationMs') &&
    same('effort') &&
    same('stroke') &&
    same('heats') &&
    a.targets.join() === b.targets.join()
  );
}

function rowOf(sheet: Sheet, run: readonly Step[], names: Names): Row {
  const [first] = run;
  if (!first) return { atMs: 0, cells: [] };
  const at = formatClock(first.atMs);
  const line = String(first.line);
  if (first.kind === 'gate') return { atMs: first.atMs, cells: [at, line, 'wait for go', '', '', ''] };
  if (first.kind === 'rest') {
    const why = { rest: 'rest', between: 'rest between rounds', join: 'wait for the other lanes' }[first.reason];
    return { atMs: first.atMs, cells: [at, line, why, '', formatClock(first.durationMs), ''] };
  }
  const cycle = formatClock(Math.round(first.durationMs / 100) * 100);
  return {
    atMs: first.atMs,
    cells: [at, line, repWords(sheet, first, run.length), first.fromEnd, cycle, targetWords(sheet, first, names)],
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

function targetWords(sheet: Sheet, step: RepStep, names: Names): string {
  return targetsOf(sheet, step)
    .flatMap((target) => (target.splits.length === 0 ? [] : [`${names[target.swimmer] ?? ''} ${timeWords(target)}`]))
    .join(', ');
}

function timeWords({ splits, restMs }: Target): string {
  const times = splits.map(({ ms, paced }) => {
    const time = formatSwimTime(ms, 2);
    return paced ? time : `~${time} easy`;
  });
  const rest = restMs === null ? '' : ` (${formatSwimTime(Math.abs(restMs), 1)}${restMs < 0 ? ' too slow' : ''})`;
  return `${times.join(' → ')}${rest}`;
}

/** Columns padded to the widest cell; the last one is left as it is. */
function aligned(rows: readonly (readonly string[])[]): string[] {
  const widths = HEAD.map((_, column) => Math.max(...rows.map((row) => (row[column] ?? '').length)));
  return rows.map((row) =>
    `  ${row.map((cell, column) => (column === row.length - 1 ? cell : cell.padEnd(widths[column] ?? 0))).join('  ')}`.trimEnd(),
  );
}

function notes(sheet: Sheet, names: Names): string[] {
  if (sheet.messages.length === 0) return [];
  const lines = sheet.messages.map(({ severity, code, line, lane, text, fix }) => {
    const where = lane === undefined ? `line ${line}` : `line ${line}, lane ${lane}`;
    return `  ${severity} ${code}, ${where}: ${withNames(text, names)}${fix === undefined ? '' : ` (${fix})`}`;
  });
  return ['', 'To look at', ...lines];
}
