import { randomId } from '../../server/ids.ts';
import { RunKeeper } from '../../server/running/run-keeper.ts';
import type { Store } from '../../server/store/store.ts';
import { instant } from '../../shared-types/brand.ts';
import type { Squad } from '../../shared-types/squad.ts';
import { Season, type TimeAsked } from '../fixtures/swum-season.ts';
import { poolOf, squadOf } from './workloads.ts';

/** Thirty swimmers on six lanes: all of them timed on every rep of a practice are somewhat more than 1,000 times. */
const SQUAD = { lanes: 6, swimmersPerLane: 5 };
/** Three practices a week. */
const BETWEEN_PRACTICES_MS = (7 / 3) * 24 * 60 * 60 * 1000;

/** Swum in every practice, so that there is much to say of it. */
const ALWAYS = '12 x 50 free @ 1:00 at 200 pace';

/** Four kinds of practices, each with two sets of its own beside the one that is in all of them. */
const OTHERS = [
  ['8 x 100 free @ 2:00 max', '14 x 25 kick @ :45'],
  ['10 x 75 free @ 1:30 (25 at 200 pace, 50 easy)', '12 x 50 back @ 1:15'],
  ['14 x 50 free rest :20 at 100 pace', '8 x 100 IM @ 2:10'],
  ['6 x 200 free @ 3:30', '16 x 25 fly @ :45'],
];

const textOf = (practice: number): string => {
  const own = OTHERS[practice % OTHERS.length] ?? [];
  return `# Practice ${(practice % OTHERS.length) + 1}\n\n${['Main', 'Second', 'Third']
    .map((name, place) => `${name}\n${[ALWAYS, ...own][place]}\n`)
    .join('\n')}`;
};

/** What is swum in a season, and by whom. */
export interface SwumBy {
  readonly squad: Squad;
  readonly lanes: number;
  /** @param practice its number, from 0: without gates, for nobody lets swimmers go on */
  textOf(practice: number): string;
  /** Whether somebody stops the watch for it. */
  isTimed(asked: TimeAsked): boolean;
}

const USUAL: SwumBy = { squad: squadOf(SQUAD), lanes: SQUAD.lanes, textOf, isTimed: () => true };

/** Practices of a season one after the other, the last of them not long ago. */
export class StoredSeason {
  readonly #store: Store;
  readonly #season: Season;
  readonly #random: () => number;
  readonly #by: SwumBy;
  #now: number;
  #practices = 0;
  /** Times taken. */
  marks = 0;

  /** @param store an empty one; @param practices how many there will be at most: they end before now */
  constructor(store: Store, practices: number, random: () => number, by: SwumBy = USUAL) {
    this.#store = store;
    this.#random = random;
    this.#by = by;
    this.#now = Math.round(Date.now() - (practices + 1) * BETWEEN_PRACTICES_MS);
    store.pool.savePool(poolOf(by));
    store.squad.replace(by.squad, false);
    const keeper = new RunKeeper({ store, now: () => instant(this.#now), newId: randomId, log: fail });
    const clock = {
      now: () => this.#now,
      pass: (byMs: number) => {
        this.#now += Math.round(byMs);
      },
    };
    this.#season = new Season({ store, keeper }, clock);
  }

  get practices(): number {
    return this.#practices;
  }

  /** Swims on until there are so many times. */
  upTo(marks: number): void {
    while (this.marks < marks) this.#swim();
  }

  /** Swims on until there were so many practices. */
  upToPractice(practices: number): void {
    while (this.#practices < practices) this.#swim();
  }

  #swim(): void {
    const begunAt = this.#now;
    // In one transaction: nothing has to be on disk before the last is.
    this.#store.inTransaction(() => this.#time());
    this.#practices += 1;
    this.#season.until(begunAt + BETWEEN_PRACTICES_MS);
  }

  #time(): void {
    this.#season.swim(this.#by.textOf(this.#practices), {
      timeOf: (asked) => {
        if (!this.#by.isTimed(asked)) return null;
        const { distance = 50 } = asked.step;
        this.marks += 1;
        return (distance / 50) * (30 + 8 * this.#random());
      },
    });
  }
}

function fail(error: unknown): never {
  throw error;
}
