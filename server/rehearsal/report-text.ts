import { STYLES, type Style } from '../../shared-types/practice.ts';
import { formatClock } from '../../shared-types/time.ts';
import { columnsOf, flow, onOneLine, PAGE_COLUMNS, padded, shortened } from '../planning/text-columns.ts';
import type { RehearsalReport, SetReport } from './report-schema.ts';

const HEADINGS = ['line', 'set', 'style', 'swum', 'timed', 'hits', 'of'] as const;
const MOST_WORDS = 46;
const MOST_NAME = 24;

/** The report as text of at most {@link PAGE_COLUMNS} columns, ending in a line break. */
export function reportText(report: RehearsalReport): string {
  const { title, seed, tookMs, presses, refused, marks, toleranceMsPer50, sets, storedAsSeen, problems } = report;
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
    ...(toleranceMsPer50 === null ? [] : [hitWords(toleranceMsPer50)]),
    ...STYLES.flatMap((style) => resultsOf(style, sets)),
    ...problems.flatMap((problem) => flow([problem], PAGE_COLUMNS, 2)),
  ];
  return `${lines.join('\n')}\n`;
}

const wholeSeconds = (value: number): string => formatClock(Math.round(value / 1000) * 1000);

const hitWords = (toleranceMsPer50: number): string =>
  `hits: at most ${toleranceMsPer50 / 1000} s a 50 above the target; what has no target is not judged`;

/** What the times of all sets of a style say, swimmer by swimmer. */
function resultsOf(style: Style, sets: readonly SetReport[]): string[] {
  const own = sets.filter((set) => set.style === style);
  return own.length === 0 ? [] : ['', style, ...own.flatMap(setLines)];
}

function setLines({ line, words, swimmers }: SetReport): string[] {
  const names = swimmers.map(({ name }) => shortened(onOneLine(name), MOST_NAME));
  const width = Math.max(...names.map(columnsOf));
  const indent = 4 + width + 2;
  return [
    ...flow([`  line ${line}: ${onOneLine(words)}`], PAGE_COLUMNS, 4),
    ...swimmers.flatMap((own, place) => {
      const [first = '', ...further] = flow([own.line], PAGE_COLUMNS - indent);
      const name = padded(names[place] ?? '', width);
      return [`    ${name}  ${first}`, ...further.map((rest) => ' '.repeat(indent) + rest)];
    }),
  ];
}

const rowOf = ({ line, words, style, swum, timed, hits, judged }: SetReport): string[] => [
  String(line),
  shortened(onOneLine(words), MOST_WORDS),
  style,
  ...[swum, timed, hits, judged].map(String),
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
