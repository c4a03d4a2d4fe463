import Papa from 'papaparse';
import { swimmerIdSchema } from '../../shared-types/brand.ts';
import { asName } from '../../shared-types/plain-name.ts';
import {
  LONGEST_NAME,
  MOST_MEANS,
  MOST_TIMES,
  type Reference,
  type SetMean,
  type Squad,
  type Swimmer,
  swimmerSchema,
} from '../../shared-types/squad.ts';
import { isOfBirth } from './birth-columns.ts';
import { unguarded } from './csv-formulas.ts';
import { OWN_FIELD_WORDS, OWN_FIELDS, type OwnField, readOwnField } from './squad-fields.ts';
import { readTimeRow, TIME_COLUMNS, type TimeRow } from './squad-times.ts';
import { nameKey } from './swimmer-names.ts';
import { cutAt } from './text-columns.ts';

/** A row or header that cannot be read. Lines count from 1; the column is the field's number in its row. */
export interface SquadProblem {
  readonly line: number;
  readonly column: number;
  readonly text: string;
  readonly fix?: string;
}

/** A row that says something. The cells of a bad one that say who and where still count, its time does not. */
export interface SquadRow {
  readonly line: number;
  /** As it stands in the row, or above it; empty where nobody is named. */
  readonly name: string;
  readonly state: 'good' | 'bad' | 'repeated';
  readonly reference?: Reference;
  readonly mean?: SetMean;
}

export interface SquadReading {
  readonly squad: Squad;
  readonly problems: readonly SquadProblem[];
  readonly rows: readonly SquadRow[];
  /** False: for a bad header or quotes that do not close nobody can say what the other rows mean. */
  readonly rowsAreClear: boolean;
  /** Columns of birth dates or ages, as the header has them: nothing of them is read. */
  readonly leftOut: readonly string[];
}

export const COLUMNS = ['swimmer', ...OWN_FIELDS, ...TIME_COLUMNS] as const;
export type Column = (typeof COLUMNS)[number];
const NEEDED: readonly Column[] = ['swimmer', 'event', 'course', 'time'];

/** Twenty times of each of the swimmers that a squad may have. */
const MOST_ROWS = 10_000;

const isColumn = (name: string): name is Column => COLUMNS.some((column) => column === name);

/**
 * Reads a squad from CSV: one row per reference time, `,` or `;`, with or without BOM, any line ends. The squad holds
 * every swimmer that could be read; whether to use it in spite of problems is the caller's decision.
 * @param newId makes a fresh 128-bit hex id for each swimmer
 */
export function readSquadCsv(text: string, newId: () => string): SquadReading {
  const parsed = Papa.parse<string[]>(text.replace(/^\uFEFF/, ''), {
    delimitersToGuess: [',', ';'],
    skipEmptyLines: false,
  });
  const [header = [], ...rows] = parsed.data;
  const { places, problems, leftOut } = readHeader(header);
  if (problems.length > 0) return { ...nothingRead(), problems, leftOut };
  if (rows.length > MOST_ROWS) return { ...nothingRead(), problems: [tooManyRows(rows.length)], leftOut };
  const reader = new RowReader(places, newId);
  let line = 1 + linesOf(header);
  let rowsAreClear = true;
  for (const [row, cells] of rows.entries()) {
    const quotes = parsed.errors.find((error) => error.type === 'Quotes' && error.row === row + 1);
    if (quotes) {
      reader.refuse('swimmer', 'a quote in this row is not closed', { line, fix: 'write " around whole cells only' });
      rowsAreClear = false;
    } else if (cells.slice(header.length).some((cell) => cell.trim() !== '')) {
      reader.refuseExtra(cells, line, header.length);
    } else if (cells.some((cell) => cell.trim() !== '')) reader.read(cells, line);
    line += linesOf(cells);
  }
  return {
    squad: { swimmers: reader.swimmers() },
    problems: reader.problems,
    rows: reader.rows,
    rowsAreClear,
    leftOut,
  };
}

const nothingRead = (): Omit<SquadReading, 'problems' | 'leftOut'> => ({
  squad: { swimmers: [] },
  rows: [],
  rowsAreClear: false,
});

const tooManyRows = (rows: number): SquadProblem => ({
  line: MOST_ROWS + 2,
  column: 1,
  text: `the file has ${rows} rows, and a squad ${MOST_ROWS} at most`,
  fix: 'leave out times that nothing is worked out from',
});

/** How many lines of the file a row takes: a quoted cell may hold line breaks. */
const linesOf = (cells: readonly string[]): number =>
  cells.reduce((lines, cell) => lines + (cell.split(/\r\n|\r|\n/).length - 1), 1);

type Places = ReadonlyMap<Column, number>;

interface Header {
  readonly places: Places;
  readonly problems: SquadProblem[];
  readonly leftOut: string[];
}

function readHeader(header: readonly string[]): Header {
  const places = new Map<Column, number>();
  const problems: SquadProblem[] = [];
  const leftOut: string[] = [];
  header.forEach((cell, place) => {
    const name = cell.trim().toLowerCase();
    if (isColumn(name) && !places.has(name)) places.set(name, place);
    else if (isOfBirth(name)) leftOut.push(cell.trim());
    else if (name !== '') {
      const text = isColumn(name)
        ? `the column "${name}" is there twice`
        : `"${cell.trim()}" is not a column of a squad`;
      problems.push({ line: 1, column: place + 1, text, fix: `columns are ${COLUMNS.join(', ')}` });
    }
  });
  const missing = NEEDED.filter((column) => !places.has(column));
  if (missing.length > 0) {
    const text = `the header has no column ${missing.map((name) => `"${name}"`).join(', ')}`;
    problems.push({ line: 1, column: 1, text, fix: `begin the file with ${COLUMNS.join(',')}` });
  }
  return { places, problems, leftOut };
}

/** A swimmer while rows are read. */
interface Draft {
  readonly id: string;
  readonly name: string;
  readonly line: number;
  readonly fields: Partial<Record<OwnField, unknown>>;
  readonly references: Reference[];
  readonly means: SetMean[];
  /** Its times as JSON, to notice a row that is there twice. */
  readonly written: Set<string>;
}

const isFull = ({ references, means }: Draft, { reference, mean }: Partial<TimeRow>): boolean =>
  (reference !== undefined && references.length >= MOST_TIMES) || (mean !== undefined && means.length >= MOST_MEANS);

class RowReader {
  readonly problems: SquadProblem[] = [];
  readonly rows: SquadRow[] = [];
  private readonly places: Places;
  private readonly newId: () => string;
  private readonly drafts = new Map<string, Draft>();
  private current: Draft | null = null;
  private cells: readonly string[] = [];
  private line = 0;
  /** The last row whose swimmer cannot be told. */
  private unreadLine: number | null = null;

  constructor(places: Places, newId: () => string) {
    this.places = places;
    this.newId = newId;
  }

  read(cells: readonly string[], line: number): void {
    this.cells = cells;
    this.line = line;
    const name = asName(this.cell('swimmer'));
    const problemsBefore = this.problems.length;
    if (name !== '') this.current = this.drafts.get(nameKey(name)) ?? this.begin(name);
    if (!this.current) {
      this.refuseNameless();
      return;
    }
    for (const field of OWN_FIELDS) this.readOwn(this.current, field);
    const time = this.readTime();
    if (this.current.name.length > LONGEST_NAME && this.current.line !== line) {
      this.refuse('swimmer', `this row belongs to the name on line ${this.current.line}, which is too long`);
    }
    this.keep(this.current, time, this.problems.length === problemsBefore);
  }

  /** Rows below one that could not be read may be of its swimmer, never of the one before. */
  private refuseNameless(): void {
    this.rows.push({ line: this.line, name: '', state: 'bad' });
    if (this.unreadLine === null) {
      this.refuse('swimmer', 'the first row names no swimmer', { fix: 'write a name in the column "swimmer"' });
    } else {
      const text = `this row belongs to line ${this.unreadLine}, which cannot be read`;
      this.refuse('swimmer', text, { fix: 'mend that line, or write the name in this one too' });
    }
  }

  private keep(draft: Draft, { reference, mean }: Pick<TimeRow, 'reference' | 'mean'>, isGood: boolean): void {
    const time = { ...(reference ? { reference } : {}), ...(mean ? { mean } : {}) };
    const written = JSON.stringify(time);
    const isRepeated = written !== '{}' && draft.written.has(written);
    const row = { line: this.line, name: draft.name };
    if (!isGood) this.rows.push({ ...row, state: 'bad' });
    else if (isRepeated) this.rows.push({ ...row, state: 'repeated' });
    else if (isFull(draft, time)) {
      this.rows.push({ ...row, state: 'bad' });
      const text = `${draft.name} has more than ${reference ? MOST_TIMES : MOST_MEANS} times`;
      this.refuse('time', text, { fix: 'leave out the oldest' });
    } else {
      this.rows.push({ ...row, state: 'good', ...time });
      draft.written.add(written);
      if (reference) draft.references.push(reference);
      if (mean) draft.means.push(mean);
    }
  }

  swimmers(): Swimmer[] {
    return [...this.drafts.values()].flatMap(({ id, name, fields, references, means }) => {
      const own = { id, name, ...fields, references, ...(means.length > 0 ? { means } : {}) };
      const swimmer = swimmerSchema.safeParse(own);
      return swimmer.success ? [swimmer.data] : [];
    });
  }

  private begin(name: string): Draft {
    const draft: Draft = {
      id: swimmerIdSchema.parse(this.newId()),
      name,
      line: this.line,
      fields: {},
      references: [],
      means: [],
      written: new Set(),
    };
    if (name.length > LONGEST_NAME)
      this.refuse('swimmer', `the name "${cutAt(name, 20)}…" is longer than ${LONGEST_NAME} letters`);
    this.drafts.set(nameKey(name), draft);
    return draft;
  }

  private cell(column: Column): string {
    const place = this.places.get(column);
    return place === undefined ? '' : unguarded((this.cells[place] ?? '').trim());
  }

  /** @param more the cure, and the line where that is not the one being read */
  refuse(
    column: Column,
    text: string,
    { line = this.line, fix }: { line?: number; fix?: string | undefined } = {},
  ): void {
    const place = (this.places.get(column) ?? 0) + 1;
    this.problems.push({ line, column: place, text, ...(fix === undefined ? {} : { fix }) });
  }

  refuseExtra(cells: readonly string[], line: number, columns: number): void {
    this.cells = cells;
    this.current = null;
    this.unreadLine = line;
    this.rows.push({ line, name: this.cell('swimmer'), state: 'bad' });
    const text = `this row has more cells than the header has columns (${columns})`;
    const fix = 'write a decimal comma only between quotes or in a file with semicolons';
    this.problems.push({ line, column: columns + 1, text, fix });
  }

  private readOwn(draft: Draft, field: OwnField): void {
    const written = field === 'short' ? asName(this.cell(field)) : this.cell(field);
    if (written === '') return;
    const value = readOwnField(field, written);
    if (value === null) {
      this.refuse(field, `"${written}" is not ${OWN_FIELD_WORDS[field]}`);
      return;
    }
    const before = draft.fields[field];
    if (before !== undefined && JSON.stringify(before) !== JSON.stringify(value)) {
      const text = `${draft.name} has another ${field} than on line ${draft.line}`;
      this.refuse(field, text, { fix: 'write the same in every row, or only in the first' });
      return;
    }
    draft.fields[field] = value;
  }

  private readTime(): Pick<TimeRow, 'reference' | 'mean'> {
    if (this.cell('event') === '' && this.cell('course') === '' && this.cell('time') === '') return {};
    const row = readTimeRow((column) => this.cell(column), this.current?.name ?? '');
    for (const { column, text, fix } of row.slips) this.refuse(column, text, { fix });
    return row;
  }
}

/** `line 4, column "time"` is said by the caller; this is the sentence after it. */
export const problemText = ({ text, fix }: SquadProblem): string => (fix === undefined ? text : `${text}; ${fix}`);
