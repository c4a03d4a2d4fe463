import { z } from 'zod';
import { instantSchema, practiceIdSchema, type SwimmerId, swimmerIdSchema } from '../../shared-types/brand.ts';
import { type Swimmer, squadSchema } from '../../shared-types/squad.ts';
import type { Former, Mention, SwimmerExport } from '../../shared-types/wire/privacy.ts';
import { type Database, flagColumn, jsonColumn, query } from './database.ts';
import { removedSchema } from './demo-store.ts';
import { OF_SWIMMERS } from './personal-tables.ts';
import { DELETED_LABELS, wordsOf } from './swimmer-erasure.ts';

const NAMES_OF_RUNS = `
  SELECT label.key AS id, label.value AS name, max(runs.loaded_at) AS last
  FROM runs, json_each(runs.pinned_json, '$.fullLabels') AS label
  WHERE json_extract(runs.pinned_json, '$.demo') IS NULL AND label.value <> '${DELETED_LABELS.full}'
    AND label.key NOT IN (SELECT swimmer_id FROM swimmers)
  GROUP BY label.key ORDER BY name`;

const NAME_IN_RUN = `
  SELECT label.value AS name FROM runs, json_each(runs.pinned_json, '$.fullLabels') AS label
  WHERE instr(runs.pinned_json, ?) > 0 AND label.key = ? ORDER BY runs.loaded_at DESC LIMIT 1`;

const TEXTS = `
  SELECT practice_id, title, text,
    version = (SELECT max(version) FROM practices AS newest WHERE newest.practice_id = practices.practice_id)
      AND practice_id NOT IN (SELECT practice_id FROM deleted_practices) AS in_library
  FROM practices ORDER BY title, practice_id, version`;

/** Marks of which some event names the swimmer. */
const TIMES = `
  SELECT count(DISTINCT json_extract(event_json, '$.mark')) AS times FROM mark_events
  WHERE instr(event_json, ?) > 0 AND json_extract(event_json, '$.place.swimmer') = ?`;

const formerRow = z.object({ id: swimmerIdSchema, name: z.string(), last: instantSchema });
const nameRow = z.object({ name: z.string() });
const textRow = z.object({
  practice_id: practiceIdSchema,
  title: z.string(),
  text: z.string(),
  in_library: flagColumn,
});
const rowSchema = z.record(z.string(), z.union([z.string(), z.number(), z.null()]));

/** Shorter words are too often something else. */
const SHORTEST_WORD = 3;

/** Everything in the database that is of one swimmer, whether in the squad or not. */
export class StoredOfSwimmer {
  readonly #database: Database;

  constructor(database: Database) {
    this.#database = database;
  }

  /** Who is out of the squad and still has a name in a practice that was swum; nobody of the demo. */
  former(): Former {
    const rows = this.#database.prepare(NAMES_OF_RUNS).all();
    return { swimmers: rows.map((row) => formerRow.parse(row)) };
  }

  /** Null when nothing says it. */
  nameOf(swimmer: SwimmerId): string | null {
    const known = this.inSquad(swimmer) ?? this.before(swimmer)[0];
    if (known) return known.name;
    const found = this.#database.prepare(NAME_IN_RUN).get(swimmer, swimmer);
    const name = found ? nameRow.parse(found).name : null;
    return name === DELETED_LABELS.full ? null : name;
  }

  inSquad(swimmer: SwimmerId): Swimmer | null {
    const asked = query.selectFrom('swimmers').select('swimmer_json').where('swimmer_id', '=', swimmer);
    const row = z.object({ swimmer_json: jsonColumn(squadSchema.shape.swimmers.element) });
    return this.#database.first(asked, row)?.swimmer_json ?? null;
  }

  /** As they were before the last file was loaded, and in a demo that was removed. */
  before(swimmer: SwimmerId): Swimmer[] {
    const loaded = query.selectFrom('squad_before').select('squad_json');
    const removed = query.selectFrom('removed_demo').select('removed_json');
    const squads = [
      ...this.#database.all(loaded, z.object({ squad_json: jsonColumn(squadSchema) })).map((row) => row.squad_json),
      ...this.#database
        .all(removed, z.object({ removed_json: jsonColumn(removedSchema) }))
        .map((row) => row.removed_json),
    ];
    return squads.flatMap(({ swimmers }) => swimmers.filter(({ id }) => id === swimmer));
  }

  /** The rows of each table that names swimmers, with what stands in columns of JSON spelt out. */
  rows(swimmer: SwimmerId): SwimmerExport['tables'] {
    const tables = OF_SWIMMERS.map((table) => {
      const asked = query.selectFrom(table).selectAll().where('swimmer_id', '=', swimmer);
      return [table, this.#database.all(asked, rowSchema).map(spelt)] as const;
    });
    return Object.fromEntries(tables);
  }

  /** Times taken of the swimmer, those taken back or given to others since among them. */
  times(swimmer: SwimmerId): number {
    return z.object({ times: z.number() }).parse(this.#database.prepare(TIMES).get(swimmer, swimmer)).times;
  }

  /** Practices in whose text, or a text of before, a word of the names stands. */
  mentions(names: readonly string[]): Mention[] {
    const words = new Set(names.flatMap(wordsOf).filter((word) => word.length >= SHORTEST_WORD));
    const rows = this.#database
      .prepare(TEXTS)
      .all()
      .map((row) => textRow.parse(row));
    const naming = rows.filter(({ text }) => wordsOf(text).some((word) => words.has(word)));
    return [...Map.groupBy(naming, ({ practice_id }) => practice_id)].map(([practice, texts]) => ({
      practice,
      title: texts.at(-1)?.title ?? '',
      isInLibrary: texts.some(({ in_library }) => in_library),
    }));
  }
}

const jsonSchema = z.json();

const spelt = (row: z.infer<typeof rowSchema>): SwimmerExport['tables'][string][number] =>
  Object.fromEntries(
    Object.entries(row).map(([column, value]) =>
      column.endsWith('_json') && typeof value === 'string'
        ? [column.replace(/_json$/, ''), jsonSchema.parse(JSON.parse(value))]
        : [column, value],
    ),
  );
