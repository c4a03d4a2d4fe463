import type { Entry } from './measure.ts';

export interface Report {
  readonly node: string;
  readonly seed: number;
  readonly quick: boolean;
  readonly groups: Readonly<Record<string, readonly Entry[]>>;
}

/** Three significant figures: `12.3`, `0.0456`. */
const number = (value: number): string => String(Number(value.toPrecision(3)));

function cells(entry: Entry): string[] {
  if (entry.kind === 'missing') return [entry.name, 'not measured', '', '', entry.why];
  const { name, unit, target, verdict } = entry;
  const aim = target === undefined ? '' : `${verdict} (at most ${number(target)} ${unit})`;
  if (entry.kind === 'figure') return [name, `${number(entry.value)} ${unit}`, '', '', aim];
  return [name, `${number(entry.median)} ${unit}`, `${number(entry.p95)} ${unit}`, String(entry.samples), aim];
}

const HEAD = ['', 'median', 'p95', 'samples', 'target'];

/** The report as a table for each group. */
export function reportText({ node, seed, quick, groups }: Report): string {
  const few = quick ? ' · quick: too few iterations to say how fast' : '';
  const tables = Object.entries(groups).map(([group, entries]) => `${group}\n${table([HEAD, ...entries.map(cells)])}`);
  return `Node ${node} · seed ${seed}${few}\n\n${tables.join('\n\n')}\n`;
}

function table(rows: readonly (readonly string[])[]): string {
  const widths = HEAD.map((_, column) => Math.max(...rows.map((row) => row[column]?.length ?? 0)));
  return rows
    .map((row) => `  ${row.map((cell, column) => cell.padEnd(widths[column] ?? 0)).join('  ')}`.trimEnd())
    .join('\n');
}
