import type { StatementSync } from 'node:sqlite';
import { z } from 'zod';
import {
  type Instant,
  instant,
  instantSchema,
  type RunId,
  runIdSchema,
  type SwimmerId,
  swimmerIdSchema,
} from '../../shared-types/brand.ts';
import type { Style } from '../../shared-types/practice.ts';
import type { EarlierMean, Signature, SwumSet } from '../../shared-types/results.ts';
import { swumSetSchema } from '../../shared-types/results.ts';
import { styleSchema } from '../../shared-types/sheet.ts';
import type { Occurrence, SetKind, SetKindsAnswer, SwumOnce } from '../../shared-types/wire/history.ts';
import type { SwimmerAnswer, SwimmerSet } from '../../shared-types/wire/swimmer.ts';
import { type Database, flagColumn } from './database.ts';

/** Which practices count. */
export interface Counted {
  /** Those that were only rehearsed as well. */
  readonly rehearsed: boolean;
}

/** 1 lets rehearsed ones in. */
const MAY_BE_REHEARSED = 'rehearsed <= ?';

/** The newest kinds first, each with when the first swimmer left on it the last time. */
const KINDS = `
  WITH times AS (
    SELECT loose, style, run_id, min(at) AS at FROM kept_sets WHERE ${MAY_BE_REHEARSED}
    GROUP BY loose, run_id, set_number
  ), kinds AS (
    SELECT loose, style, count(DISTINCT run_id) AS occurrences, max(at) AS last_at FROM times
    GROUP BY loose ORDER BY last_at DESC, loose LIMIT ?
  )
  SELECT kinds.*, (
    SELECT count(DISTINCT swimmer_id) FROM kept_sets WHERE kept_sets.loose = kinds.loose AND ${MAY_BE_REHEARSED}
  ) AS swimmers FROM kinds ORDER BY last_at DESC, loose`;

const kindRow = z
  .object({
    loose: z.string(),
    style: styleSchema,
    occurrences: z.number(),
    swimmers: z.number(),
    last_at: instantSchema,
  })
  .transform(({ loose: signature, last_at: lastAt, ...kind }): SetKind => ({ signature, ...kind, lastAt }));

const OF_KIND = `
  SELECT kept_sets.*, title FROM kept_sets JOIN kept_runs USING (run_id)
  WHERE loose = ? AND ${MAY_BE_REHEARSED} ORDER BY run_id, place`;

const ofKindRow = z.object({
  run_id: runIdSchema,
  set_number: z.number(),
  swimmer_id: swimmerIdSchema,
  rehearsed: flagColumn,
  at: instantSchema,
  style: styleSchema,
  strict: z.string(),
  loose: z.string(),
  reps: z.number(),
  timed: z.number(),
  is_whole: flagColumn,
  mean_ms: z.number().nullable(),
  best_ms: z.number().nullable(),
  worst_ms: z.number().nullable(),
  judged: z.number(),
  hits: z.number(),
  title: z.string().nullable(),
});
type OfKind = z.infer<typeof ofKindRow>;

/** Each set once, whoever swam it. */
const OF_SQUAD = `
  SELECT min(at) AS at, style, avg(metres) AS metres, avg(ms) AS ms FROM kept_sets
  WHERE at >= ? AND at < ? AND ${MAY_BE_REHEARSED} GROUP BY run_id, set_number`;

const OF_SWIMMER = `
  SELECT at, style, metres, ms FROM kept_sets
  WHERE at >= ? AND at < ? AND ${MAY_BE_REHEARSED} AND swimmer_id = ?`;

/** The last that a swimmer left on first. */
const LAST_OF_SWIMMER = `
  SELECT kept_sets.*, title FROM kept_sets JOIN kept_runs USING (run_id)
  WHERE swimmer_id = ? AND ${MAY_BE_REHEARSED} ORDER BY at DESC, run_id, place LIMIT ?`;

/** Practices that somebody has left on, each with when the first did. */
const RUNS = `
  SELECT run_id, title, min(at) AS at FROM kept_sets JOIN kept_runs USING (run_id)
  WHERE at >= ? AND at < ? AND ${MAY_BE_REHEARSED} GROUP BY run_id ORDER BY min(at)`;

const runRow = z
  .object({ run_id: runIdSchema, title: z.string().nullable(), at: instantSchema })
  .transform(({ run_id: run, ...of }) => ({ run, ...of }));

/** One that is strictly the same before one that is only loosely so, and of those the newest. */
const LAST_MEAN = `
  SELECT strict, mean_ms, at FROM kept_sets
  WHERE swimmer_id = ? AND loose = ? AND at < ? AND ${MAY_BE_REHEARSED} AND run_id <> ?
    AND is_whole = 1 AND mean_ms IS NOT NULL
  ORDER BY strict = ? DESC, at DESC LIMIT 1`;

const meanRow = z.object({ strict: z.string(), mean_ms: z.number(), at: instantSchema });

/** What has been swum over the years, as far as it is kept. */
export class HistoryStore {
  readonly #kinds: StatementSync;
  readonly #ofKind: StatementSync;
  readonly #ofSquad: StatementSync;
  readonly #ofSwimmer: StatementSync;
  readonly #runs: StatementSync;
  readonly #lastMean: StatementSync;
  readonly #anyOf: StatementSync;
  readonly #lastOf: StatementSync;

  constructor(database: Database) {
    this.#kinds = database.prepare(KINDS);
    this.#ofKind = database.prepare(OF_KIND);
    this.#ofSquad = database.prepare(OF_SQUAD);
    this.#ofSwimmer = database.prepare(OF_SWIMMER);
    this.#runs = database.prepare(RUNS);
    this.#lastMean = database.prepare(LAST_MEAN);
    this.#lastOf = database.prepare(LAST_OF_SWIMMER);
    this.#anyOf = database.prepare('SELECT 1 FROM kept_sets WHERE swimmer_id = ? LIMIT 1');
  }

  /** So many kinds of sets, the last swum first. */
  kinds(limit: number, { rehearsed }: Counted): SetKindsAnswer {
    const counted = rehearsed ? 1 : 0;
    const rows = this.#kinds.all(counted, limit + 1, counted).map((row) => kindRow.parse(row));
    return { kinds: rows.slice(0, limit), more: rows.length > limit };
  }

  /** Every time a set was swum, in order of time, and its style; null when it never was. @param loose its signature */
  occurrences(loose: string, { rehearsed }: Counted): { style: Style; occurrences: Occurrence[] } | null {
    const rows = this.#ofKind.all(loose, rehearsed ? 1 : 0).map((row) => ofKindRow.parse(row));
    const [first] = rows;
    if (!first) return null;
    const sets = Map.groupBy(rows, ({ run_id, set_number }) => `${run_id} ${set_number}`);
    const occurrences = [...sets.values()].flatMap(([one, ...others]) => (one ? occurrenceOf(one, others) : []));
    return { style: first.style, occurrences: occurrences.sort((a, b) => a.at - b.at) };
  }

  /** What a swimmer, or null: the squad, left on from an instant up to before another. Of the squad the mean of a set. */
  swum(from: Instant, to: Instant, swimmer: SwimmerId | null, { rehearsed }: Counted): SwumSet[] {
    const asked = [from, to, rehearsed ? 1 : 0];
    const rows = swimmer === null ? this.#ofSquad.all(...asked) : this.#ofSwimmer.all(...asked, swimmer);
    return rows.map((row) => swumSetSchema.parse(row));
  }

  /** The practices that were begun from an instant up to before another, in order of time. */
  runs(from: Instant, to: Instant, { rehearsed }: Counted): z.infer<typeof runRow>[] {
    return this.#runs.all(from, to, rehearsed ? 1 : 0).map((row) => runRow.parse(row));
  }

  /** What the same set came to with a swimmer the last time before, in another run; null when it was never whole. */
  lastMean(
    swimmer: SwimmerId,
    { strict, loose }: Signature,
    { before, run, rehearsed }: Counted & { readonly before: Instant; readonly run: RunId },
  ): EarlierMean | null {
    const found = this.#lastMean.get(swimmer, loose, before, rehearsed ? 1 : 0, run, strict);
    if (!found) return null;
    const row = meanRow.parse(found);
    return { signature: { strict: row.strict, loose }, meanMs: row.mean_ms, at: row.at };
  }

  /** So many sets of a swimmer, the last first. */
  setsOf(swimmer: SwimmerId, limit: number, { rehearsed }: Counted): Pick<SwimmerAnswer, 'sets' | 'more'> {
    const rows = this.#lastOf.all(swimmer, rehearsed ? 1 : 0, limit + 1).map((row) => swimmerSet(ofKindRow.parse(row)));
    return { sets: rows.slice(0, limit), more: rows.length > limit };
  }

  /** Whether a swimmer has swum anything that is kept. */
  knows(swimmer: SwimmerId): boolean {
    return this.#anyOf.get(swimmer) !== undefined;
  }
}

function occurrenceOf(first: OfKind, others: readonly OfKind[]): Occurrence {
  const all = [first, ...others];
  const { run_id: run, set_number: set, title, rehearsed } = first;
  const at = instant(Math.min(...all.map((one) => one.at)));
  return { run, set, title, at, rehearsed, swimmers: all.map(swumOnce) };
}

const swumOnce = (row: OfKind): SwumOnce => ({
  swimmer: row.swimmer_id,
  strict: row.strict,
  reps: row.reps,
  timed: row.timed,
  isWhole: row.is_whole,
  meanMs: row.mean_ms,
  bestMs: row.best_ms,
  worstMs: row.worst_ms,
  judged: row.judged,
  hits: row.hits,
});

function swimmerSet(row: OfKind): SwimmerSet {
  const { swimmer: _, ...once } = swumOnce(row);
  const { run_id: run, set_number: set, title, at, style, loose } = row;
  return { ...once, run, set, title, at, style, loose };
}
