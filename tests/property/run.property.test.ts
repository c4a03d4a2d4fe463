import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decide } from '../../server/running/decide.ts';
import {
  commandIdSchema,
  deviceIdSchema,
  type Instant,
  instant,
  runIdSchema,
  sheetHashSchema,
} from '../../shared-types/brand.ts';
import { type Command, commandSchema } from '../../shared-types/commands.ts';
import type { Run } from '../../shared-types/events.ts';
import { foldEvent, newRun } from '../../shared-types/fold.ts';
import { placeAt } from '../../shared-types/motion.ts';
import type { Sheet } from '../../shared-types/sheet.ts';
import { countedIds, sheetOf } from '../fixtures/planning.ts';
import { randomPractice } from '../fixtures/random-practices.ts';
import { LANES, SlowWalk, walkText } from '../fixtures/slow-walk.ts';

/** What a coach does in a practice, in seconds since its start. */
interface Coach {
  /** How long the coach takes to say go, gate after gate, over and over. */
  readonly goAfter: readonly number[];
  readonly holds: readonly { readonly at: number; readonly lasts: number }[];
  readonly shifts: readonly { readonly at: number; readonly lane: number; readonly by: number }[];
}

const coach: fc.Arbitrary<Coach> = fc.record({
  goAfter: fc.array(fc.integer({ min: 0, max: 40 }), { minLength: 1, maxLength: 4 }),
  holds: fc.array(fc.record({ at: fc.integer({ min: 1, max: 900 }), lasts: fc.integer({ min: 1, max: 60 }) }), {
    maxLength: 3,
  }),
  shifts: fc.array(
    fc.record({
      at: fc.integer({ min: 1, max: 900 }),
      lane: fc.constantFrom(...LANES),
      by: fc.integer({ min: 1, max: 30 }),
    }),
    { maxLength: 4 },
  ),
});

const STARTED_AT = 1_800_000_000_000;
const at = (second: number): Instant => instant(STARTED_AT + second * 1000);
const SETTINGS = { gridMs: 5000, leadInMs: 3000, trimMs: 0 };

/** A run driven by commands, every one of which must be carried out. */
class Driven {
  readonly sheet: Sheet;
  run: Run;
  private readonly nextId = countedIds();
  private readonly device = deviceIdSchema.parse('d'.repeat(32));

  constructor(sheet: Sheet) {
    this.sheet = sheet;
    this.run = newRun(runIdSchema.parse('a'.repeat(32)), sheetHashSchema.parse('b'.repeat(64)), sheet, at(0));
  }

  press(second: number, what: { kind: Command['kind'] } & Record<string, unknown>): void {
    const base = { id: commandIdSchema.parse(this.nextId()), device: this.device, run: this.run.id };
    const command = commandSchema.parse({
      ...base,
      pressedAt: at(second),
      basedOnSeq: this.run.seq,
      when: 'now',
      ...what,
    });
    const decision = decide(this.sheet, this.run, command, {
      now: at(second),
      events: [],
      settings: SETTINGS,
      plan: null,
      sheetAfter: () => ({ hash: this.run.sheet, sheet: this.sheet }),
    });
    if (!decision.ok) throw new Error(`${second}: ${what.kind} refused: ${decision.message}`);
    this.run = foldEvent(this.run, JSON.parse(JSON.stringify(decision.event)));
  }

  /** Reps a lane has left on at this second. */
  departed(lane: number, second: number): number {
    const sheetLane = this.sheet.lanes[lane];
    if (!sheetLane) return 0;
    const { ahead } = placeAt(this.sheet, this.run.motions, sheetLane, at(second));
    return sheetLane.steps.slice(0, ahead).filter(({ kind }) => kind === 'rep').length;
  }

  /** The sheet's gate that these lanes (numbered from 0) stand at. */
  gateOf(lanes: readonly number[]): number {
    const opened = this.run.motions.find(({ lane }) => lane === (lanes[0] ?? 0) + 1)?.gates ?? 0;
    const gates = this.sheet.joins.flatMap((join, index) =>
      join.gate && join.lanes.some((lane) => lane === (lanes[0] ?? 0) + 1) ? [index] : [],
    );
    return gates[opened] ?? -1;
  }
}

const MOST_SECONDS = 24 * 3600;

/** Walks and runs the practice side by side; after every second both must have let the same swimmers go. */
function compare(practice: Parameters<typeof walkText>[0], script: Coach): number {
  const driven = new Driven(sheetOf(walkText(practice)));
  const walk = new SlowWalk(practice);
  const seen = new Map<string, number>();
  let gates = 0;
  let heldUntil = Number.NaN;
  // A hold while a lane is put off has a unit test of its own: what is left of it counts against the other lanes.
  let putOffUntil = 0;
  driven.press(0, { kind: 'start' });
  for (let second = 0; !walk.isDone() && second < MOST_SECONDS; second += 1) {
    if (second > 0) walk.tick();
    if (walk.held && second === heldUntil) {
      walk.held = false;
      driven.press(second, { kind: 'resume' });
    }
    const hold: Coach['holds'][number] | undefined = script.holds.find((one) => one.at === second);
    if (hold && !walk.held && second > putOffUntil) {
      walk.held = true;
      heldUntil = second + hold.lasts;
      driven.press(second, { kind: 'hold' });
    }
    if (!walk.held) gates = openGates(walk, driven, second, seen, script, gates);
    for (const { lane, by } of walk.held ? [] : script.shifts.filter((one) => one.at === second)) {
      if (!walk.canShift(lane)) continue;
      walk.shift(lane, by);
      putOffUntil = Math.max(putOffUntil, second) + by;
      driven.press(second, { kind: 'shift', lane: lane + 1, byMs: by * 1000 });
    }
    const expected = LANES.map((lane) => walk.repsOf(lane));
    expect({ second, reps: LANES.map((lane) => driven.departed(lane, second)) }).toEqual({ second, reps: expected });
  }
  expect(walk.isDone()).toBe(true);
  return walk.second;
}

function openGates(
  walk: SlowWalk,
  driven: Driven,
  second: number,
  seen: Map<string, number>,
  script: Coach,
  opened: number,
): number {
  let count = opened;
  for (let ready = due(); ready.length > 0; ready = due()) {
    for (const { place, lanes } of ready) {
      driven.press(second, { kind: 'go', gate: driven.gateOf(lanes) });
      walk.open(place);
      count += 1;
    }
  }
  return count;

  function due(): ReturnType<SlowWalk['shutGates']> {
    return walk.shutGates().filter(({ place }) => {
      const since = seen.get(place) ?? second;
      seen.set(place, since);
      return second - since >= (script.goAfter[count % script.goAfter.length] ?? 0);
    });
  }
}

describe('running random practices', () => {
  it('[RUN1] lets every lane go when a walk second by second does, through joins, gates, holds and shifts', () => {
    fc.assert(
      fc.property(randomPractice, coach, (practice, script) => {
        compare(practice, script);
      }),
      { numRuns: 100, endOnFailure: true },
    );
  }, 120_000);
});
