import { z } from 'zod';
import { type Squad, type Swimmer, swimmerSchema } from '../../shared-types/squad.ts';
import type { SquadAnswer } from '../../shared-types/wire/desk.ts';
import { withTakenOver } from '../planning/kept-references.ts';
import { type Database, flagColumn, jsonColumn, query } from './database.ts';
import { POOL_ID } from './pool-store.ts';

const rowSchema = z.object({ swimmer_json: jsonColumn(swimmerSchema), demo: flagColumn });

/** A swimmer of the same name as before keeps the id and what was taken over from results. */
function keepIds(swimmers: readonly Swimmer[], before: readonly Swimmer[]): Swimmer[] {
  const left = [...before];
  return swimmers.map((swimmer) => {
    const place = left.findIndex(({ name }) => name === swimmer.name);
    const [same] = place < 0 ? [] : left.splice(place, 1);
    return same ? { ...withTakenOver(swimmer, same), id: same.id } : swimmer;
  });
}

/** The squad, replaced as a whole. */
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

  /** Has these swimmers, all of one lane, leave in this order. */
  order(swimmers: readonly Swimmer[]): void {
    this.#database.inTransaction(() => {
      for (const [place, swimmer] of swimmers.entries()) this.save({ ...swimmer, order: place + 1 });
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
}
