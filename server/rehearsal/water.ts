import { type Instant, instant, type SwimmerId } from '../../shared-types/brand.ts';
import type { Departure } from '../../shared-types/departures.ts';
import type { Pool } from '../../shared-types/pool.ts';
import { laneOf, type RepStep, type Sheet, targetsOf } from '../../shared-types/sheet.ts';
import type { Swimmer } from '../../shared-types/squad.ts';
import { timedPlacesOf } from '../../shared-types/timed-places.ts';
import { expectedSwimMs } from './expected-swim.ts';
import { drawsFor } from './random.ts';
import { formOf, swimOf, thumbErrorMs } from './swimmer-model.ts';

/** Turning round at the wall when the next send-off has been already, ms (a convention of ours). */
const TURN_MS = 1000;
/** Who comes in when so much of the next swim should be over leaves that one out (a convention of ours). */
const LEAVES_OUT_SHARE = 0.5;

/** So far into the rep, in the course's unit. */
export interface TimedPlace {
  readonly distance: number;
  readonly at: Instant;
}

/** Somebody's swim from a departure on. */
export interface SwimUnderWay {
  readonly departure: Departure;
  readonly rep: RepStep;
  /** When the swimmer is at the wall, or out of everybody's way. */
  readonly inAt: Instant;
  /** Where the coach's thumb takes a time and when, in order; empty: nowhere. */
  readonly timed: readonly TimedPlace[];
}

export interface WaterParts {
  readonly seed: number;
  readonly swimmers: readonly Swimmer[];
  readonly pool: Pool;
}

export const departureKey = ({ swimmer, step, pass }: Departure): string => `${swimmer} ${step} ${pass}`;

/** Where a deck times the rep, and by what share of the swim the swimmer is there: as in the target, else evenly. */
function sharesOf(sheet: Sheet, rep: RepStep, swimmer: SwimmerId): { distance: number; share: number }[] {
  const target = targetsOf(sheet, rep).find((one) => one.swimmer === swimmer);
  return timedPlacesOf(sheet, rep).map((distance) => {
    const split = target?.splits.find((one) => one.distance === distance);
    const share = split && target?.ms ? split.ms / target.ms : distance / (rep.distance ?? distance);
    return { distance, share };
  });
}

/** Everybody who has left of late, and when each comes in. */
export class Water {
  readonly #parts: WaterParts;
  readonly #swimmers: ReadonlyMap<SwimmerId, Swimmer>;
  readonly #swims = new Map<string, SwimUnderWay>();

  constructor(parts: WaterParts) {
    this.#parts = parts;
    this.#swimmers = new Map(parts.swimmers.map((swimmer) => [swimmer.id, swimmer]));
  }

  get swims(): Iterable<SwimUnderWay> {
    return this.#swims.values();
  }

  has(departure: Departure): boolean {
    return this.#swims.has(departureKey(departure));
  }

  /** Somebody leaves. */
  leave(sheet: Sheet, departure: Departure): void {
    const rep = laneOf(sheet, departure.lane)?.steps.find(({ id }) => id === departure.step);
    const swimmer = this.#swimmers.get(departure.swimmer);
    if (rep?.kind !== 'rep' || !swimmer) return;
    this.#swims.set(departureKey(departure), this.#swimOf(sheet, departure, rep, swimmer));
  }

  /** Forgets whoever, as it turns out, has not left. */
  keep(left: (departure: Departure) => boolean): void {
    for (const [key, { departure }] of this.#swims) if (!left(departure)) this.#swims.delete(key);
  }

  /** Forgets what was over before `t`, the time taken of it too. */
  forgetBefore(t: Instant): void {
    for (const [key, { inAt, timed }] of this.#swims) {
      if (inAt < t && timed.every(({ at }) => at < t)) this.#swims.delete(key);
    }
  }

  #swimOf(sheet: Sheet, departure: Departure, rep: RepStep, swimmer: Swimmer): SwimUnderWay {
    const { seed, pool } = this.#parts;
    const expectedMs = expectedSwimMs({ sheet, rep, swimmer, pool });
    const freeAt = this.#inBefore(departure) + TURN_MS;
    if (rep.distance === undefined) return { departure, rep, inAt: instant(departure.at + expectedMs), timed: [] };
    if (freeAt > departure.at + expectedMs * LEAVES_OUT_SHARE) {
      return { departure, rep, inAt: departure.at, timed: [] };
    }
    const form = formOf(drawsFor(seed, swimmer.name));
    const draw = drawsFor(seed, swimmer.name, departure.step, departure.pass);
    const { ms, ends } = swimOf(form, expectedMs, rep, draw);
    const setsOffAt = Math.max(departure.at, freeAt);
    const inAt = instant(setsOffAt + ms);
    if (ends !== 'touch') return { departure, rep, inAt, timed: [] };
    const shares = sharesOf(sheet, rep, departure.swimmer);
    const timed = shares.map(({ distance, share }) => {
      const touchedAt = setsOffAt + Math.round(ms * share);
      return { distance, at: instant(touchedAt + thumbErrorMs(draw)) };
    });
    return { departure, rep, inAt, timed };
  }

  /** When the swimmer's last swim before this one ends. */
  #inBefore({ swimmer, at }: Departure): number {
    let before = Number.NEGATIVE_INFINITY;
    for (const { departure, inAt } of this.#swims.values()) {
      if (departure.swimmer === swimmer && departure.at <= at) before = Math.max(before, inAt);
    }
    return before;
  }
}
