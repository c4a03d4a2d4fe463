import { planPractice } from '../../server/planning/plan.ts';
import type { Run } from '../../shared-types/events.ts';
import type { Sheet } from '../../shared-types/sheet.ts';
import type { Squad } from '../../shared-types/squad.ts';
import { type Labels, labelsSchema } from '../../shared-types/wire/from-server.ts';
import { Coach, type Press } from '../fixtures/coach.ts';
import { seeded } from './seeded.ts';
import { poolOf, type Size, squadOf } from './workloads.ts';

/** What a wall is told for the next ten seconds; null: nothing is on it. */
export type Shown = { readonly run: Run; readonly labels: Labels; readonly sheet?: Sheet } | null;

export const TURN_SECONDS = 10;
/** Turns until another practice is on the wall. */
const TURNS = 6;

const TEXT = `Main set: race pace
4 x 25 free @ :40 at 200 pace
4 x 50 free @ 1:10 (25 at 200 pace, 25 easy)
`;

type Crew = Omit<Size, 'reps'>;
const CREWS: readonly Crew[] = [
  { lanes: 10, swimmersPerLane: 6 },
  { lanes: 6, swimmersPerLane: 4 },
  { lanes: 4, swimmersPerLane: 2 },
];

/** After so many turns a wall has shown each of them, and nothing. */
export const TURNS_OF_ALL = TURNS * (CREWS.length + 1);

interface Plan {
  readonly sheet: Sheet;
  readonly squad: Squad;
}

function planOf(crew: Crew): Plan {
  const squad = squadOf(crew);
  const { sheet, messages } = planPractice(TEXT, squad, poolOf(crew));
  if (!sheet) throw new Error(messages.map(({ text }) => text).join('\n'));
  return { sheet, squad };
}

const PRESSES: readonly Press[] = [
  { kind: 'hold' },
  { kind: 'resume', when: 'now' },
  { kind: 'next', when: 'now' },
  { kind: 'back', when: 'now' },
  { kind: 'shift', lane: 1, byMs: 5000 },
];

/**
 * Everything a wall is shown in a day, in no time: every minute another practice and every fourth none, pressed at
 * random, and every ten seconds another name for everybody, so that no picture of a text can be kept for ever.
 */
export class SoakPractices {
  readonly #random: () => number;
  readonly #plans = CREWS.map(planOf);
  #coach: Coach | null = null;
  #squad: Squad = { swimmers: [] };
  #turn = 0;

  constructor(seed: number) {
    this.#random = seeded(seed);
  }

  /** The next ten seconds. */
  next(): Shown {
    const [minute, part] = [Math.floor(this.#turn / TURNS), this.#turn % TURNS];
    const seconds = this.#turn * TURN_SECONDS;
    if (part === 0) this.#begin(minute, seconds);
    else if (part === TURNS - 1) this.#coach?.press({ kind: 'finish' }, seconds);
    else this.#pressAnything(seconds);
    this.#turn += 1;
    if (!this.#coach) return null;
    const { run, sheet } = this.#coach;
    return { run, labels: this.#labels(), ...(part === 0 ? { sheet } : {}) };
  }

  #begin(minute: number, seconds: number): void {
    const plan = this.#plans[minute % (CREWS.length + 1)];
    this.#coach = plan ? new Coach(plan.sheet) : null;
    this.#squad = plan?.squad ?? this.#squad;
    this.#coach?.press({ kind: 'start', when: 'now' }, seconds);
  }

  /** What does not fit is refused. */
  #pressAnything(seconds: number): void {
    const press = PRESSES[Math.floor(this.#random() * PRESSES.length * 2)];
    if (press) this.#coach?.press(press, seconds);
  }

  #labels(): Labels {
    return labelsSchema.parse(
      Object.fromEntries(this.#squad.swimmers.map(({ id }, place) => [id, `Nº ${this.#turn}-${place}`])),
    );
  }
}
