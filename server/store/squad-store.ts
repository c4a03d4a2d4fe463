import { z } from 'zod';
import type { SwimmerId } from '../../shared-types/brand.ts';
import { type Squad, type Swimmer, swimmerSchema } from '../../shared-types/squad.ts';
import type { SquadAnswer } from '../../shared-types/wire/desk.ts';
import { keepIds } from '../planning/squad-import.ts';
import { type Database, flagColumn, jsonColumn, query } from './database.ts';
import { POOL_ID } from './pool-store.ts';

const placeRow = z.object({ place: z.number() });
const rowSchema = z.object({ swimmer_json: jsonColumn(swimmerSchema), demo: flagColumn });

/** A file that was loaded. */
interface Load {
  readonly fileName: string;
  /** On the pool's clock, ms since 1970. */
  readonly loadedAt: number;
}

interface BeforeLoad extends Load {
  readonly squad: Squad;
  readonly demo: boolean;
}

const beforeSchema = z.object({
  squad_json: jsonColumn(z.object({ swimmers: z.array(swimmerSchema) })),
  demo: flagColumn,
  file_name: z.string(),
  loaded_at: z.number(),
});

/** The squad, replaced as a whole, and the one before the last file. */
export class SquadStore {
  readonly #database: Database;

  constructor(database: Database) {
    this.#database = database;
  }

  squad(): SquadAnswer {
    const asked = query.selectFrom('swimmers').select(['swimmer_json', 'demo']).where('pool_id', '=', POOL_ID);
    const rows = this.#database.all(asked.orderBy('place'), rowSchema);
    return { swimmers: rows.map((row) => row.swimmer_json), demo: rows.some((row) => row.demo) };
  }

  /** One swimmer anew, who is in the squad. */
  save(swimmer: Swimmer): void {
    const swimmer_json = JSON.stringify(swimmer);
    this.#database.run(query.updateTable('swimmers').set({ swimmer_json }).where('swimmer_id', '=', swimmer.id));
  }

  /** Those of the invented squad, not who was added to it. */
  ofDemo(): Swimmer[] {
    const asked = query.selectFrom('swimmers').select(['swimmer_json', 'demo']).where('pool_id', '=', POOL_ID);
    return this.#database.all(asked.where('demo', '=', 1).orderBy('place'), rowSchema).map((row) => row.swimmer_json);
  }

  /** Whether nobody else is in it. */
  isDemo(): boolean {
    const count = this.ofDemo().length;
    return count > 0 && count === this.squad().swimmers.length;
  }

  /** One swimmer more, after the others. */
  add(swimmer: Swimmer, demo = false): void {
    const asked = query.selectFrom('swimmers').select('place').where('pool_id', '=', POOL_ID).orderBy('place', 'desc');
    const place = 1 + (this.#database.first(asked.limit(1), placeRow)?.place ?? -1);
    const row = { swimmer_id: swimmer.id, pool_id: POOL_ID, place, swimmer_json: JSON.stringify(swimmer) };
    this.#database.run(query.insertInto('swimmers').values({ ...row, demo: demo ? 1 : 0 }));
  }

  remove(swimmer: SwimmerId): void {
    this.#database.run(query.deleteFrom('swimmers').where('swimmer_id', '=', swimmer));
  }

  /** All of these anew, who are in the squad, or none. */
  saveAll(swimmers: readonly Swimmer[]): void {
    this.#database.inTransaction(() => {
      for (const swimmer of swimmers) this.save(swimmer);
    });
  }

  /** @returns the squad as stored, where swimmers of the same name have kept their ids */
  replace(squad: Squad, demo: boolean): SquadAnswer {
    const swimmers = keepIds(squad.swimmers, this.squad().swimmers);
    this.#database.inTransaction(() => {
      this.#database.run(query.deleteFrom('swimmers').where('pool_id', '=', POOL_ID));
      swimmers.forEach((swimmer, place) => {
        const row = { swimmer_id: swimmer.id, pool_id: POOL_ID, place, swimmer_json: JSON.stringify(swimmer) };
        this.#database.run(query.insertInto('swimmers').values({ ...row, demo: demo ? 1 : 0 }));
      });
    });
    return { swimmers, demo: demo && swimmers.length > 0 };
  }

  /** Replaces the squad by a file's and keeps the one before; a file that changes nothing leaves the kept one alone. */
  load(squad: Squad, load: Load): SquadAnswer {
    const before = this.squad();
    return this.#database.inTransaction(() => {
      const stored = this.replace(squad, false);
      if (JSON.stringify(stored) !== JSON.stringify(before)) this.#keepBefore(before, load);
      return stored;
    });
  }

  /** Null: nothing was loaded, or that is undone. */
  beforeLoad(): BeforeLoad | null {
    const columns = ['squad_json', 'demo', 'file_name', 'loaded_at'] as const;
    const asked = query.selectFrom('squad_before').select(columns).where('pool_id', '=', POOL_ID);
    const found = this.#database.first(asked, beforeSchema);
    if (!found) return null;
    return { squad: found.squad_json, demo: found.demo, fileName: found.file_name, loadedAt: found.loaded_at };
  }

  /** Puts back the squad of before the last load; what was taken over from results since then stays. */
  undoLoad({ squad, demo }: BeforeLoad): SquadAnswer {
    return this.#database.inTransaction(() => {
      this.#database.run(query.deleteFrom('squad_before').where('pool_id', '=', POOL_ID));
      return this.replace(squad, demo);
    });
  }

  #keepBefore({ swimmers, demo }: SquadAnswer, { fileName, loadedAt }: Load): void {
    const squad_json = JSON.stringify({ swimmers });
    const row = { squad_json, demo: demo ? 1 : 0, file_name: fileName, loaded_at: loadedAt };
    this.#database.run(
      query
        .insertInto('squad_before')
        .values({ pool_id: POOL_ID, ...row })
        .onConflict((conflict) => conflict.column('pool_id').doUpdateSet(row)),
    );
  }
}
