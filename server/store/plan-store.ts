import { z } from 'zod';
import { type PracticeId, practiceIdSchema } from '../../shared-types/brand.ts';
import { type Database, query } from './database.ts';
import { POOL_ID } from './pool-store.ts';

const rowSchema = z.object({ day: z.string(), practice_id: practiceIdSchema });
const MOST_PLANNED = 30_000;

const placeSchema = z.object({ day: z.string(), place: z.number() });

/** Which practices are to be swum on which day. Days are YYYY-MM-DD, so they sort as they follow one another. */
export class PlanStore {
  readonly #database: Database;

  constructor(database: Database) {
    this.#database = database;
  }

  /** What is planned from a day up to another and on it, by day and in the order in which it is swum. */
  between(first: string, last: string): Map<string, PracticeId[]> {
    const asked = query
      .selectFrom('planned_practices')
      .select(['day', 'practice_id'])
      .where('pool_id', '=', POOL_ID)
      .where('day', '>=', first)
      .where('day', '<=', last)
      .orderBy('day')
      .orderBy('place');
    const rows = Map.groupBy(this.#database.all(asked, rowSchema), ({ day }) => day);
    return new Map([...rows].map(([day, planned]) => [day, planned.map((row) => row.practice_id)]));
  }

  on(day: string): PracticeId[] {
    return this.between(day, day).get(day) ?? [];
  }

  /** The days that a practice is planned for, and its place in each. */
  daysOf(practice: PracticeId): { day: string; place: number }[] {
    const asked = query
      .selectFrom('planned_practices')
      .select(['day', 'place'])
      .where('pool_id', '=', POOL_ID)
      .where('practice_id', '=', practice);
    return this.#database.all(asked.orderBy('day'), placeSchema);
  }

  /** Whether so much is planned that nobody can swim it in a lifetime of two practices a day. */
  isFull(): boolean {
    const asked = query.selectFrom('planned_practices').select(({ fn }) => fn.countAll<number>().as('planned'));
    return (this.#database.first(asked, z.object({ planned: z.number() }))?.planned ?? 0) >= MOST_PLANNED;
  }

  /** In the place of what was planned for that day. */
  replace(day: string, practices: readonly PracticeId[]): void {
    this.#database.inTransaction(() => {
      this.#database.run(query.deleteFrom('planned_practices').where('pool_id', '=', POOL_ID).where('day', '=', day));
      practices.forEach((practice_id, place) => {
        this.#database.run(query.insertInto('planned_practices').values({ pool_id: POOL_ID, day, place, practice_id }));
      });
    });
  }
}
