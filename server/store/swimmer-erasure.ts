import { z } from 'zod';
import { type RunId, runIdSchema, type SwimmerId } from '../../shared-types/brand.ts';
import { type MarkEvent, markEventSchema } from '../../shared-types/marks.ts';
import { squadSchema } from '../../shared-types/squad.ts';
import type { Database } from './database.ts';
import { jsonColumn, query } from './database.ts';
import { removedSchema } from './demo-store.ts';
import { OF_SWIMMERS } from './personal-tables.ts';
import { type Pinned, pinnedSchema } from './run-store.ts';

/** What results of before call them. */
export const DELETED_LABELS = { short: 'deleted', full: 'deleted swimmer' } as const;

/** Ids are of random hex digits, so that one stands in a text of JSON only where it is meant. */
const RUNS_WITH = 'SELECT run_id, pinned_json FROM runs WHERE instr(pinned_json, ?) > 0';
const MARKED_RUNS = 'SELECT DISTINCT run_id FROM mark_events WHERE instr(event_json, ?) > 0';
/** What is kept of the others is as right as before. */
const COUNT_FEWER_SETS = `
  UPDATE kept_runs SET sets = sets - (
    SELECT count(*) FROM kept_sets WHERE kept_sets.run_id = kept_runs.run_id AND swimmer_id = ?
  )`;

const pinnedRow = z.object({ run_id: runIdSchema, pinned_json: jsonColumn(pinnedSchema) });
const idRow = z.object({ run_id: runIdSchema });
const eventRow = z.object({ event_json: jsonColumn(markEventSchema) });
const beforeRow = z.object({ squad_json: jsonColumn(squadSchema), file_name: z.string() });
const demoRow = z.object({ removed_json: jsonColumn(removedSchema) });

/** Says which of a run's mark events are others without the swimmer. */
export type Unmark = (events: readonly MarkEvent[]) => MarkEvent[];

/** Takes a swimmer out of everything that is stored. What of the marks is to be written instead it is told. */
export class SwimmerErasure {
  readonly #database: Database;

  constructor(database: Database) {
    this.#database = database;
  }

  /** [FLT1] All of it, or nothing. @param at on the pool's clock */
  erase(swimmer: SwimmerId, name: string, at: number, unmark: Unmark): void {
    this.#database.inTransaction(() => {
      this.#database.prepare(COUNT_FEWER_SETS).run(swimmer);
      for (const table of OF_SWIMMERS) this.#database.run(query.deleteFrom(table).where('swimmer_id', '=', swimmer));
      this.#eraseFromBefore(swimmer, name);
      this.#eraseFromDemo(swimmer);
      for (const { run_id, pinned_json } of this.pinnedIn(swimmer)) this.#pin(run_id, unpinned(pinned_json, swimmer));
      for (const run of this.markedIn(swimmer)) this.#rewrite(unmark(this.#marksOf(run)));
      this.#database.run(
        query
          .insertInto('deletions')
          .values({ deleted_id: swimmer, deleted_at: at, swept: 0 })
          .onConflict((conflict) => conflict.doUpdateSet({ swept: 0 })),
      );
    });
  }

  isDeleted(swimmer: SwimmerId): boolean {
    const asked = query.selectFrom('deletions').select('deleted_id').where('deleted_id', '=', swimmer);
    return this.#database.first(asked, z.unknown()) !== undefined;
  }

  /** Whether bytes of somebody may still be in the file. */
  isUnswept(): boolean {
    const asked = query.selectFrom('deletions').select('deleted_id').where('swept', '=', 0);
    return this.#database.first(asked.limit(1), z.unknown()) !== undefined;
  }

  /** Leaves no byte of what has been deleted in the file. @throws Error when there is no room to write it anew */
  sweep(): void {
    this.#database.sweep();
    if (this.isUnswept()) this.#database.run(query.updateTable('deletions').set({ swept: 1 }));
  }

  /** Runs that the swimmer was in the squad for. */
  pinnedIn(swimmer: SwimmerId): z.infer<typeof pinnedRow>[] {
    return this.#database
      .prepare(RUNS_WITH)
      .all(swimmer)
      .map((row) => pinnedRow.parse(row));
  }

  /** Runs with something in their marks of the swimmer. */
  markedIn(swimmer: SwimmerId): RunId[] {
    return this.#database
      .prepare(MARKED_RUNS)
      .all(swimmer)
      .map((row) => idRow.parse(row).run_id);
  }

  #marksOf(run: RunId): MarkEvent[] {
    const asked = query.selectFrom('mark_events').select('event_json').where('run_id', '=', run).orderBy('seq');
    return this.#database.all(asked, eventRow).map(({ event_json }) => event_json);
  }

  #rewrite(events: readonly MarkEvent[]): void {
    for (const event of events) {
      const set = query.updateTable('mark_events').set({ event_json: JSON.stringify(event) });
      this.#database.run(set.where('run_id', '=', event.run).where('seq', '=', event.seq));
    }
  }

  #pin(run: RunId, pinned: Pinned): void {
    const set = query.updateTable('runs').set({ pinned_json: JSON.stringify(pinned) });
    this.#database.run(set.where('run_id', '=', run));
  }

  /** A file may be named after the one swimmer who is in it. */
  #eraseFromBefore(swimmer: SwimmerId, name: string): void {
    const asked = query.selectFrom('squad_before').select(['squad_json', 'file_name']);
    const before = this.#database.first(asked, beforeRow);
    if (!before) return;
    const swimmers = before.squad_json.swimmers.filter(({ id }) => id !== swimmer);
    const isNamed = wordsOf(name).some((word) => wordsOf(before.file_name).includes(word));
    const file_name = isNamed ? 'a file' : before.file_name;
    this.#database.run(query.updateTable('squad_before').set({ squad_json: JSON.stringify({ swimmers }), file_name }));
  }

  #eraseFromDemo(swimmer: SwimmerId): void {
    const kept = this.#database.first(query.selectFrom('removed_demo').select('removed_json'), demoRow)?.removed_json;
    if (!kept) return;
    const swimmers = kept.swimmers.filter(({ id }) => id !== swimmer);
    const stayed = kept.stayed.filter((id) => id !== swimmer);
    const removed_json = JSON.stringify({ ...kept, swimmers, stayed });
    this.#database.run(query.updateTable('removed_demo').set({ removed_json }));
  }
}

/** The words of a text in small letters. */
export const wordsOf = (text: string): string[] =>
  text
    .normalize('NFC')
    .toLowerCase()
    .match(/\p{L}+/gu) ?? [];

function unpinned(pinned: Pinned, swimmer: SwimmerId): Pinned {
  const { plan, shortLabels, fullLabels } = pinned;
  return {
    ...pinned,
    shortLabels: { ...shortLabels, [swimmer]: DELETED_LABELS.short },
    fullLabels: { ...fullLabels, [swimmer]: DELETED_LABELS.full },
    ...(plan ? { plan: { ...plan, squad: without(plan.squad, swimmer) } } : {}),
  };
}

const without = ({ swimmers }: z.infer<typeof squadSchema>, swimmer: SwimmerId): z.infer<typeof squadSchema> => ({
  swimmers: swimmers.filter(({ id }) => id !== swimmer),
});
