import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { describe, expect, test } from 'vitest';
import type { z } from 'zod';
import { isOfBirth } from '../../server/planning/birth-columns.ts';
import { COLUMNS } from '../../server/planning/squad-csv.ts';
import { OF_NOBODY, OF_RUNS, OF_SWIMMERS, PSEUDONYMOUS, WITHIN } from '../../server/store/personal-tables.ts';
import { openStore } from '../../server/store/store.ts';
import { swimmerSchema } from '../../shared-types/squad.ts';
import { swimmerExportSchema } from '../../shared-types/wire/privacy.ts';
import { temporaryFolder } from '../fixtures/temporary-folder.ts';

/** The columns of every table of a new database. */
function columnsOfTables(): Map<string, string[]> {
  const folder = temporaryFolder();
  const opened = openStore(folder);
  if (!opened.ok) throw new Error(opened.message);
  opened.store.close();
  const raw = new DatabaseSync(join(folder, 'farwall.db'));
  const tables = raw.prepare("SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY name").all();
  const columns = tables.map(({ name }): [string, string[]] => [
    String(name),
    raw
      .prepare(`SELECT name FROM pragma_table_info('${String(name)}')`)
      .all()
      .map((column) => String(column.name)),
  ]);
  raw.close();
  return new Map(columns);
}

const tablesWith = (column: string): string[] =>
  [...columnsOfTables()].flatMap(([table, columns]) => (columns.includes(column) ? [table] : []));

describe('the tables of the database', () => {
  test('with a swimmer each lose the rows of who is deleted for good, and give them to the export', () => {
    expect(tablesWith('swimmer_id')).toEqual([...OF_SWIMMERS].sort());
  });

  test('with a run each lose the rows of what is older than what is kept', () => {
    expect(tablesWith('run_id')).toEqual([...OF_RUNS].sort());
  });

  test('are all known to hold something of swimmers, or nothing: a new one has to be named in personal-tables.ts', () => {
    const named = new Set<string>([...OF_SWIMMERS, ...WITHIN, ...PSEUDONYMOUS, ...OF_NOBODY]);
    expect([...columnsOfTables().keys()]).toEqual([...named].sort());
  });
});

/** The names of all fields of a schema, those within others too. */
function fieldsOf(schema: z.ZodType): string[] {
  const text = JSON.stringify(schema.toJSONSchema({ io: 'input', unrepresentable: 'any' }));
  return [...text.matchAll(/"([^"]+)":\{/g)].map(([, name]) => name ?? '');
}

describe('birth dates', () => {
  test('have no place in the database, in a squad’s file, in a swimmer or in an export', () => {
    const places = [
      ...[...columnsOfTables().values()].flat(),
      ...COLUMNS,
      ...fieldsOf(swimmerSchema),
      ...fieldsOf(swimmerExportSchema),
    ];
    expect(places).toContain('references');
    expect(places.filter(isOfBirth)).toEqual([]);
  });

  test.for(['born', 'Birth date', 'date_of_birth', 'DOB', 'd.o.b.', 'YOB', 'Age', 'Geburtsdatum', 'Jahrgang'])(
    'are what a column “%s” holds',
    (name) => {
      expect(isOfBirth(name)).toBe(true);
    },
  );

  test.for(['swimmer', 'lane', 'average', 'stage', 'alternate', 'date', 'bob', 'job'])(
    'are not what a column “%s” holds',
    (name) => {
      expect(isOfBirth(name)).toBe(false);
    },
  );
});
