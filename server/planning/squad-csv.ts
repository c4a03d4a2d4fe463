import Papa from 'papaparse';
import { swimmerIdSchema } from '../../shared-types/brand.ts';
import { type Reference, type SetMean, type Squad, type Swimmer, swimmerSchema } from '../../shared-types/squad.ts';
import { OWN_FIELD_WORDS, OWN_FIELDS, type OwnField, readOwnField } from './squad-fields.ts';
import { readTimeRow, TIME_COLUMNS } from './squad-times.ts';

/** A row or header that cannot be read. Lines count from 1; the column is the field's number in its row. */
export interface SquadProblem {
  readonly line: number;
  readonly column: number;
  readonly text: string;
  readonly fix?: string;
}

export interface SquadReading {
  readonly squad: Squad;
  readonly problems: readonly SquadProblem[];
}

const COLUMNS = ['swimmer', ...OWN_FIELDS, ...TIME_COLUMNS] as const;
type Column = (typeof COLUMNS)[number];
const NEEDED: readonly Column[] = ['swimmer', 'event', 'course', 'time'];

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
  const { places, problems } = readHeader(header);
  if (problems.length > 0) return { squad: { swimmers: [] }, problems };
  const reader = new RowReader(places, newId);
  let line = 1 + linesOf(header);
  for (const [row, cells] of rows.entries()) {
    const quotes = parsed.errors.find((error) => error.type === 'Quotes' && error.row === row + 1);
    if (quotes)
      reader.refuse('swimmer', 'a quote in this row is not closed', { line, fix: 'write " around whole cells only' });
    else if (cells.slice(header.length).some((cell) => cell.trim() !== '')) reader.refuseExtra(line, header.length);
    else if (cells.some((cell) => cell.trim() !== '')) reader.read(cells, line);
    line += linesOf(cells);
  }
  return { squad: { swimmers: reader.swimmers() }, problems: reader.problems };
}

/** How many lines of the file a row takes: a quoted cell may hold line breaks. */
const linesOf = (cells: readonly string[]): number =>
  cells.reduce((lines, cell) => lines + (cell.split(/\r\n|\r|\n/).length - 1), 1);

type Places = ReadonlyMap<Column, number>;

function readHeader(header: readonly string[]): { places: Places; problems: SquadProblem[] } {
  const places = new Map<Column, number>();
  const problems: SquadProblem[] = [];
  header.forEach((cell, place) => {
    const name = cell.trim().toLowerCase();
    if (isColumn(name) && !places.has(name)) places.set(name, place);
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
  return { places, problems };
}

/** A swimmer while rows are read. */
interface Draft {
  readonly id: string;
  readonly name: string;
  readonly line: number;
  readonly fields: Partial<Record<OwnField, unknown>>;
  readonly references: Reference[];
  readonly means: SetMean[];
}

class RowReader {
  readonly problems: SquadProblem[] = [];
  private readonly places: Places;
  private readonly newId: () => string;
  private readonly drafts = new Map<string, Draft>();
  private current: Draft | null = null;
  private cells: readonly string[] = [];
  private line = 0;

  constructor(places: Places, newId: () => string) {
    this.places = places;
    this.newId = newId;
  }

  read(cells: readonly string[], line: number): void {
    this.cells = cells;
    this.line = line;
    const name = this.cell('swimmer');
    if (name !== '') this.current = this.drafts.get(name.toLowerCase()) ?? this.begin(name);
    if (!this.current) {
      this.refuse('swimmer', 'the first row names no swimmer', { fix: 'write a name in the column "swimmer"' });
      return;
    }
    for (const field of OWN_FIELDS) this.readOwn(this.current, field);
    this.readTime(this.current);
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
    };
    if (name.length > 60) this.refuse('swimmer', `the name "${name.slice(0, 20)}…" is longer than 60 letters`);
    this.drafts.set(name.toLowerCase(), draft);
    return draft;
  }

  private cell(column: Column): string {
    const place = this.places.get(column);
    return place === undefined ? '' : (this.cells[place] ?? '').trim();
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

  refuseExtra(line: number, columns: number): void {
    const text = `this row has more cells than the header has columns (${columns})`;
    const fix = 'write a decimal comma only between quotes or in a file with semicolons';
    this.problems.push({ line, column: columns + 1, text, fix });
  }

  private readOwn(draft: Draft, field: OwnField): void {
    const written = this.cell(field);
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

  private readTime(draft: Draft): void {
    if (this.cell('event') === '' && this.cell('course') === '' && this.cell('time') === '') return;
    const { reference, mean, slips } = readTimeRow((column) => this.cell(column), draft.name);
    for (const { column, text, fix } of slips) this.refuse(column, text, { fix });
    if (reference) draft.references.push(reference);
    if (mean) draft.means.push(mean);
  }
}

/** `line 4, column "time"` is said by the caller; this is the sentence after it. */
export const problemText = ({ text, fix }: SquadProblem): string => (fix === undefined ? text : `${text}; ${fix}`);
