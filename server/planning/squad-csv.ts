import Papa from 'papaparse';
import { z } from 'zod';
import { swimmerIdSchema } from '../../shared-types/brand.ts';
import { COURSES } from '../../shared-types/pool.ts';
import {
  parseEvent,
  type Reference,
  referenceSchema,
  type Squad,
  type Swimmer,
  swimmerSchema,
} from '../../shared-types/squad.ts';
import { formatSwimTime, parseSwimTime } from '../../shared-types/time.ts';

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

const COLUMNS = [
  'swimmer',
  'lane',
  'order',
  'group',
  'category',
  'main',
  'event',
  'course',
  'time',
  'kind',
  'date',
  'half',
] as const;
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
  readonly fields: Partial<Record<'lane' | 'order' | 'group' | 'category' | 'main', unknown>>;
  readonly references: Reference[];
}

const OWN_FIELDS = ['lane', 'order', 'group', 'category', 'main'] as const;

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
    this.readReference(this.current);
  }

  swimmers(): Swimmer[] {
    return [...this.drafts.values()].flatMap(({ id, name, fields, references }) => {
      const swimmer = swimmerSchema.safeParse({ id, name, ...fields, references });
      return swimmer.success ? [swimmer.data] : [];
    });
  }

  private begin(name: string): Draft {
    const draft: Draft = { id: swimmerIdSchema.parse(this.newId()), name, line: this.line, fields: {}, references: [] };
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

  private readOwn(draft: Draft, field: (typeof OWN_FIELDS)[number]): void {
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

  private readReference(draft: Draft): void {
    const [event, course, time] = [this.cell('event'), this.cell('course'), this.cell('time')];
    if (event === '' && course === '' && time === '') return;
    const parsed = {
      event: parseEvent(event),
      course: COURSES.find((known) => known === course.toUpperCase()),
      timeMs: readTime(time),
      kind: this.cell('kind').toLowerCase() || 'best',
      date: this.cell('date') || undefined,
      halfMs: this.cell('half') === '' ? undefined : readTime(this.cell('half')),
    };
    if (!this.acceptable(parsed, draft)) return;
    const reference = referenceSchema.safeParse(
      Object.fromEntries(Object.entries(parsed).filter(([, value]) => value !== undefined)),
    );
    if (reference.success) draft.references.push(reference.data);
  }

  /** Says what is wrong with a reference time's cells; true when nothing is. */
  private acceptable(parsed: Record<string, unknown>, draft: Draft): boolean {
    const before = this.problems.length;
    const check = (column: Column, fine: boolean, what: string, fix?: string): void => {
      if (!fine) this.refuse(column, `"${this.cell(column)}" is not ${what}`, { fix });
    };
    check('event', parsed.event !== null, 'an event', 'write it like 200 free or 100 free kick');
    check('course', parsed.course !== undefined, `a course (${COURSES.join(', ')})`);
    check('time', typeof parsed.timeMs === 'number' && parsed.timeMs > 0, 'a swim time', 'write it like 1:58.40');
    check(
      'kind',
      ['best', 'goal', 'test'].some((kind) => kind === parsed.kind),
      'a kind of time (best, goal, test)',
    );
    const date = z.iso.date().optional().safeParse(parsed.date);
    check('date', date.success, 'a date', 'write it like 2026-10-12');
    check('half', parsed.halfMs !== null, 'a swim time', 'write it like 57.90');
    const { halfMs, timeMs } = parsed;
    if (typeof halfMs === 'number' && typeof timeMs === 'number' && halfMs >= timeMs) {
      const text = `the half split ${formatSwimTime(halfMs, 2)} of ${draft.name} is not less than the time ${formatSwimTime(timeMs, 2)}`;
      this.refuse('half', text, { fix: 'write the split at half the distance' });
    }
    return this.problems.length === before;
  }
}

/** A swim time as spreadsheets write it: also with a decimal comma. */
const readTime = (text: string): number | null => parseSwimTime(text.replace(',', '.'));

const OWN_FIELD_WORDS = {
  lane: 'a lane (1 to 12)',
  order: 'a place in the lane (1 to 12)',
  group: 'a pace group (one letter, A the fastest)',
  category: 'a category (women or men)',
  main: 'an event; write it like 200 fly',
} as const;

function readOwnField(field: (typeof OWN_FIELDS)[number], written: string): unknown {
  if (field === 'main') return parseEvent(written);
  if (field === 'group') return /^[a-z]$/i.test(written) ? written.toUpperCase() : null;
  if (field === 'category') return /^(women|men)$/i.test(written) ? written.toLowerCase() : null;
  const number = Number(written);
  return /^\d{1,2}$/.test(written) && number >= 1 && number <= 12 ? number : null;
}

/** `line 4, column "time"` is said by the caller; this is the sentence after it. */
export const problemText = ({ text, fix }: SquadProblem): string => (fix === undefined ? text : `${text}; ${fix}`);
