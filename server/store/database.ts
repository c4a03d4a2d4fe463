import { DatabaseSync, type SQLInputValue, type StatementSync } from 'node:sqlite';
import { type Compilable, DummyDriver, Kysely, SqliteAdapter, SqliteIntrospector, SqliteQueryCompiler } from 'kysely';
import { z } from 'zod';
import { type BackupSource, backupSourceOn } from './backup-source.ts';
import { BUSY_MS, numberOf, pragmaOf } from './file-format.ts';
import type { Tables } from './tables.ts';

/**
 * Writes queries, typed by the tables. They are executed by {@link Database}, at once and in one go: Kysely's own
 * drivers wait between the statements of a transaction, and an event could be appended in there.
 */
export const query = new Kysely<Tables>({
  dialect: {
    createAdapter: () => new SqliteAdapter(),
    createDriver: () => new DummyDriver(),
    createIntrospector: (db) => new SqliteIntrospector(db),
    createQueryCompiler: () => new SqliteQueryCompiler(),
  },
});

const JOURNAL_BYTES = 8 * 1024 * 1024;
const SYNCHRONOUS_FULL = 2;

/** A column of JSON: parsed and checked by `schema`. */
export const jsonColumn = <T extends z.ZodType>(schema: T) =>
  z
    .string()
    .transform((text): unknown => JSON.parse(text))
    .pipe(schema);

export const flagColumn = z.number().transform((flag) => flag !== 0);

const isSqlValue = (value: unknown): value is SQLInputValue =>
  value === null || typeof value === 'string' || typeof value === 'number' || value instanceof Uint8Array;

/** The one connection to the database file. Every call is done, and on disk, when it returns. */
export class Database {
  readonly file: string;
  readonly #sqlite: DatabaseSync;
  readonly #statements = new Map<string, StatementSync>();

  /**
   * Opens (or makes) the file, durable: write-ahead log with `synchronous = FULL`, held by this process alone.
   * @throws Error with SQLite's `errcode` when the file cannot be opened
   */
  constructor(file: string) {
    this.file = file;
    this.#sqlite = new DatabaseSync(file, { timeout: BUSY_MS, enableForeignKeyConstraints: true });
    this.#sqlite.exec(`
      PRAGMA locking_mode = EXCLUSIVE;
      PRAGMA journal_mode = WAL;
      PRAGMA synchronous = FULL;
      PRAGMA secure_delete = ON;
      PRAGMA journal_size_limit = ${JOURNAL_BYTES};
    `);
  }

  all<T extends z.ZodType>(compilable: Compilable<unknown>, row: T): z.infer<T>[] {
    const { statement, values } = this.#ready(compilable);
    return statement.all(...values).map((found) => row.parse(found));
  }

  first<T extends z.ZodType>(compilable: Compilable<unknown>, row: T): z.infer<T> | undefined {
    const { statement, values } = this.#ready(compilable);
    const found = statement.get(...values);
    return found === undefined ? undefined : row.parse(found);
  }

  run(compilable: Compilable<unknown>): void {
    const { statement, values } = this.#ready(compilable);
    statement.run(...values);
  }

  /** A statement of plain SQL, prepared once: for the path every command takes. */
  prepare(sql: string): StatementSync {
    const known = this.#statements.get(sql);
    if (known) return known;
    const made = this.#sqlite.prepare(sql);
    this.#statements.set(sql, made);
    return made;
  }

  /** Grows with every row that is written, changed or deleted. */
  changes(): number {
    return numberOf(this.prepare('SELECT total_changes() AS changes').get()?.changes);
  }

  exec(sql: string): void {
    this.#sqlite.exec(sql);
  }

  /** The value of a pragma, e.g. `user_version`. */
  pragma(name: string): unknown {
    return pragmaOf(this.#sqlite, name);
  }

  /** All of `work`, which must not wait for anything, or nothing of it. Within another transaction it joins that one. */
  inTransaction<T>(work: () => T): T {
    if (this.#sqlite.isTransaction) return work();
    this.#sqlite.exec('BEGIN IMMEDIATE');
    try {
      const result = work();
      this.#sqlite.exec('COMMIT');
      return result;
    } catch (error) {
      // A full disk makes SQLite roll back by itself.
      if (this.#sqlite.isTransaction) this.#sqlite.exec('ROLLBACK');
      throw error;
    }
  }

  /**
   * Writes the file anew, so that no byte is left in it, or in its log, of what has been deleted. Holds everything up
   * meanwhile, about a second for some hundred megabytes.
   * @throws Error of node:sqlite when there is no room for it
   */
  sweep(): void {
    this.#sqlite.exec('VACUUM');
    const isBusy = this.pragma('wal_checkpoint(TRUNCATE)');
    if (isBusy !== 0) throw new Error(`the log of "${this.file}" could not be emptied`);
  }

  /** [FLT1] @throws Error when what has been written would not survive the machine losing power: that is a bug */
  assertDurable(): void {
    const journal = this.pragma('journal_mode');
    const synchronous = this.pragma('synchronous');
    if (journal !== 'wal' || synchronous !== SYNCHRONOUS_FULL) {
      throw new Error(`"${this.file}" is not durable: journal_mode ${journal}, synchronous ${synchronous}`);
    }
  }

  /** [FLT6] What backups are made of; only as long as the database is open. */
  backupSource(): BackupSource {
    return backupSourceOn(this.#sqlite);
  }

  close(): void {
    this.#statements.clear();
    this.#sqlite.close();
  }

  #ready(compilable: Compilable<unknown>): { statement: StatementSync; values: SQLInputValue[] } {
    const { sql, parameters } = compilable.compile();
    const values = parameters.filter(isSqlValue);
    if (values.length !== parameters.length) throw new TypeError(`a value SQLite cannot keep, in: ${sql}`);
    return { statement: this.prepare(sql), values };
  }
}
