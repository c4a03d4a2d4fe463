import { formatClock } from '../../shared-types/time.ts';
import { columnsOf, flow, onOneLine, PAGE_COLUMNS, padded, shortened } from '../planning/text-columns.ts';
import type { RehearsalReport, SetReport } from './report-schema.ts';

const HEADINGS = ['line', 'set', 'style', 'swum', 'timed', 'made', 'missed'] as const;
const MOST_WORDS = 46;

/** The report as text of at most {@link PAGE_COLUMNS} columns, ending in a line break. */
export function reportText(report: RehearsalReport): string {
  const { title, seed, tookMs, presses, refused, marks, tolerance, sets, storedAsSeen, problems } = report;
  const percent = Math.round(tolerance * 100);
  const lines = [
    ...flow([onOneLine(title)], PAGE_COLUMNS, 2),
    `rehearsed with seed ${seed}, ${wholeSeconds(tookMs)} on the pool's clock`,
    '',
    `presses  ${presses}, refused ${refused}`,
    `times    ${marks.sent} sent, ${marks.stored} stored, ${marks.unplaced} unplaced, ${marks.unexpected} no longer expected`,
    `stored   ${storedAsSeen ? 'as the deck saw it' : 'not as the deck saw it'}`,
    '',
    ...table([HEADINGS, ...sets.map(rowOf)]),
    '',
    `made: no more than ${percent} % above the target of a rep with something to hold; the rest is not judged`,
    ...problems.flatMap((problem) => flow([problem], PAGE_COLUMNS, 2)),
  ];
  return `${lines.join('\n')}\n`;
}

const wholeSeconds = (value: number): string => formatClock(Math.round(value / 1000) * 1000);

const rowOf = ({ line, words, style, swum, timed, made, missed }: SetReport): string[] => [
  String(line),
  shortened(onOneLine(words), MOST_WORDS),
  style,
  ...[swum, timed, made, missed].map(String),
];

function table(rows: readonly (readonly string[])[]): string[] {
  const widths = HEADINGS.map((_, column) => Math.max(...rows.map((row) => columnsOf(row[column] ?? ''))));
  return rows.map((row) =>
    row
      .map((cell, column) => padded(cell, widths[column] ?? 0, column === 1 || column === 2 ? 'end' : 'start'))
      .join('  ')
      .trimEnd(),
  );
}
