import type { StatementSync } from 'node:sqlite';
import { z } from 'zod';
import { type PracticeId, practiceIdSchema } from '../../shared-types/brand.ts';
import type { Style } from '../../shared-types/practice.ts';
import { styleSchema } from '../../shared-types/sheet.ts';
import type { FoundPractice } from '../../shared-types/wire/library.ts';
import { type Database, flagColumn } from './database.ts';
import { POOL_ID } from './pool-store.ts';

/** What a version of a practice comes to. */
export interface PracticeFacts {
  /** What the lane swims that swims most. */
  readonly metres: number;
  readonly styles: readonly Style[];
}

export interface Wanted {
  /** All of them are in the text, in any order; capital letters or small. */
  readonly words: readonly string[];
  /** Null: any. */
  readonly style: Style | null;
  /** Metres. */
  readonly least: number;
  readonly most: number;
  /** Saved from this instant up to before that one, ms since 1970. */
  readonly from: number;
  readonly to: number;
}

/** The newest version of each practice that is in the library. */
const NEWEST = `
  SELECT practice_id, max(version) AS version FROM practices
  WHERE pool_id = '${POOL_ID}' AND practice_id NOT IN (SELECT practice_id FROM deleted_practices)
  GROUP BY practice_id`;

const MISSING = `
  SELECT practice_id, version FROM (${NEWEST})
  WHERE (practice_id, version) NOT IN (SELECT practice_id, version FROM practice_facts)`;

/** instr() takes a text as it is: what is typed is no pattern. */
const FOUND = `
  SELECT practice_id, version, title, saved_at, demo, metres, styles
  FROM practices JOIN (${NEWEST}) USING (practice_id, version) JOIN practice_facts USING (practice_id, version)
  WHERE saved_at >= ? AND saved_at < ? AND metres >= ? AND metres <= ? AND instr(styles, ?) > 0
    AND NOT EXISTS (SELECT 1 FROM json_each(?) WHERE instr(lower(text), value) = 0)
  ORDER BY saved_at DESC, title LIMIT ?`;

const missingRow = z
  .object({ practice_id: practiceIdSchema, version: z.number() })
  .transform(({ practice_id: id, version }) => ({ id, version }));

const foundRow = z
  .object({
    practice_id: practiceIdSchema,
    version: z.number(),
    title: z.string(),
    saved_at: z.number(),
    demo: flagColumn,
    metres: z.number(),
    styles: z.string(),
  })
  .transform(
    ({ practice_id: id, saved_at: savedAt, styles, ...of }): FoundPractice => ({
      ...of,
      id,
      savedAt,
      styles: z.array(styleSchema).parse(styles.split('|').filter((style) => style !== '')),
    }),
  );

/** Finds practices by what is in them. */
export class PracticeSearch {
  readonly #missing: StatementSync;
  readonly #keep: StatementSync;
  readonly #found: StatementSync;

  constructor(database: Database) {
    this.#missing = database.prepare(MISSING);
    this.#keep = database.prepare(
      'INSERT OR REPLACE INTO practice_facts (practice_id, version, metres, styles) VALUES (?, ?, ?, ?)',
    );
    this.#found = database.prepare(FOUND);
  }

  /** The practices of which it is not known yet what they come to. */
  missing(): z.infer<typeof missingRow>[] {
    return this.#missing.all().map((row) => missingRow.parse(row));
  }

  keep(id: PracticeId, version: number, { metres, styles }: PracticeFacts): void {
    this.#keep.run(id, version, metres, `|${styles.map((style) => `${style}|`).join('')}`);
  }

  /** So many that have all that is wanted, last saved first; of those without facts none. */
  find({ words, style, least, most, from, to }: Wanted, limit: number): FoundPractice[] {
    const wanted = JSON.stringify(words.map((word) => word.toLowerCase()));
    const rows = this.#found.all(from, to, least, most, style === null ? '|' : `|${style}|`, wanted, limit);
    return rows.map((row) => foundRow.parse(row));
  }
}
