import Papa from 'papaparse';
import { eventText, type Reference, type SetMean, type Squad, type Swimmer } from '../../shared-types/squad.ts';
import { formatSwimTime } from '../../shared-types/time.ts';
import { guarded } from './csv-formulas.ts';
import { COLUMNS, type Column } from './squad-csv.ts';

type Row = Partial<Record<Column, string | undefined>>;

/** Times of sets are means, so they have thousandths. */
function timeText(timeMs: number): string {
  const thousandth = timeMs % 10;
  return `${formatSwimTime(timeMs - thousandth, 2)}${thousandth === 0 ? '' : thousandth}`;
}

const numberText = (value: number | undefined): string | undefined => (value === undefined ? undefined : String(value));

function ownCells({ short, lane, order, group, category, main }: Swimmer): Row {
  return { short, lane: numberText(lane), order: numberText(order), group, category, main: main && eventText(main) };
}

const referenceRow = ({ event, course, timeMs, kind, date, halfMs, splitsMs, start, handTimed }: Reference): Row => ({
  event: eventText(event),
  course,
  time: timeText(timeMs),
  kind,
  date,
  half: halfMs === undefined ? undefined : timeText(halfMs),
  splits: splitsMs?.map(timeText).join(' '),
  start,
  hand: handTimed && 'yes',
});

/** The course stands in the set's own words, but a row has to have one. */
const meanRow = ({ set, sendOff, meanMs, date, handTimed }: SetMean): Row => ({
  event: `${set}; ${sendOff}`,
  course: /(SCY|SCM|LCM)$/.exec(set)?.[1] ?? 'SCM',
  time: timeText(meanMs),
  kind: 'mean',
  date,
  hand: handTimed && 'yes',
});

function swimmerRows(swimmer: Swimmer): Row[] {
  const times = [...swimmer.references.map(referenceRow), ...(swimmer.means ?? []).map(meanRow)];
  const rows = times.length === 0 ? [{}] : times;
  return rows.map((row, place) => ({ swimmer: swimmer.name, ...(place === 0 ? ownCells(swimmer) : {}), ...row }));
}

/** A squad as a file that loads again to the same: a row a time, or one for a swimmer without. */
export function squadCsv({ swimmers }: Squad): string {
  const data = swimmers.flatMap(swimmerRows).map((row) => COLUMNS.map((column) => guarded(row[column] ?? '')));
  return `\uFEFF${Papa.unparse({ fields: [...COLUMNS], data })}\r\n`;
}
