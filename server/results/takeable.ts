import { type Instant, instant, ms } from '../../shared-types/brand.ts';
import { type Course, lengthOf } from '../../shared-types/pool.ts';
import { isKnown, type RepTime, type SwimmerResults } from '../../shared-types/results.ts';
import type { SheetSet } from '../../shared-types/sheet.ts';
import { type Event, type RaceStroke, raceStrokeSchema, type Swimmer } from '../../shared-types/squad.ts';
import { formatClock } from '../../shared-types/time.ts';
import { isTrial } from '../planning/pace/threshold.ts';
import type { Taken } from './take-over.ts';

/** A swimmer's set, for which it is asked what of it could become a reference. */
export interface SetOfSwimmer {
  readonly course: Course;
  readonly set: SheetSet;
  readonly swimmer: Pick<Swimmer, 'main'>;
  readonly results: Pick<SwimmerResults, 'reps' | 'signature' | 'spread'>;
  /** As the sheet says it, `max`; undefined: nothing was said. */
  readonly effortOn: (rep: RepTime) => string | undefined;
  /** The day of an instant on the pool's clock, YYYY-MM-DD. */
  readonly dayOf: (at: Instant) => string;
}

/**
 * What of a swimmer's times of a set can be taken over: the fastest all-out rep of each event as a test, and the mean of a
 * best average. Never as a best: those are races, and timed by more than a thumb.
 */
export function takeableOf(of: SetOfSwimmer): Taken[] {
  return [...testsIn(of), ...meanOf(of)];
}

/** Kick and pull are swum with these; with anything else a time is no test (a convention of ours). */
const USUAL = { swim: [], kick: ['board'], pull: ['buoy'], drill: [] } as const;

interface Timed {
  readonly event: Event;
  readonly rep: RepTime;
  readonly timeMs: number;
}

function testsIn(of: SetOfSwimmer): Taken[] {
  const { set, course, dayOf } = of;
  const usual: readonly string[] = USUAL[set.activity];
  if (set.activity === 'drill' || set.equipment.some((words) => !usual.includes(words))) return [];
  const fastest = new Map<RaceStroke, Timed>();
  for (const timed of of.results.reps.flatMap((rep) => timedIn(of, rep))) {
    const known = fastest.get(timed.event.stroke);
    if (!known || timed.timeMs < known.timeMs) fastest.set(timed.event.stroke, timed);
  }
  return [...fastest.values()].flatMap(({ event, rep, timeMs }): Taken[] => {
    if (rep.leftAt === null) return [];
    const { start } = rep;
    const date = dayOf(rep.leftAt);
    return [
      { kind: 'test', reference: { event, course, timeMs: ms(timeMs), kind: 'test', start, handTimed: true, date } },
    ];
  });
}

/**
 * An all-out rep of one stroke. From a push only what is never raced and trials for the threshold: a short swim from a
 * push says little of one from the blocks.
 */
function timedIn({ set, course, swimmer, effortOn }: SetOfSwimmer, rep: RepTime): Timed[] {
  const stroke = raceStrokeSchema.safeParse(rep.stroke === 'own' ? swimmer.main?.stroke : rep.stroke);
  const { distance, activity, ms: timeMs } = rep;
  if (!stroke.success || distance === undefined || timeMs === null || timeMs <= 0) return [];
  if (effortOn(rep) !== 'max' || hasParts(set)) return [];
  if (stroke.data === 'IM' && distance % (4 * lengthOf(course)) !== 0) return [];
  if (rep.start === 'push' && activity === 'swim' && !isTrial(distance)) return [];
  return [{ event: { distance, stroke: stroke.data, activity }, rep, timeMs }];
}

/** Parts are said first, each with its distance: `25 fly + 25 free, max`. */
const hasParts = ({ detail }: SheetSet): boolean => /^\d+(?: |$)/.test(detail);

/** Of a best average that was swum whole, in one round: only such a set is looked for by the next one. */
function meanOf({ set, results, dayOf }: SetOfSwimmer): Taken[] {
  const { reps, spread, signature } = results;
  const left = reps.flatMap(({ leftAt }) => leftAt ?? []);
  const sendOff = sendOffOf(set, reps);
  if (set.style !== 'best average' || !isKnown(spread.meanMs) || spread.count < 2 || sendOff === null) return [];
  if (left.length < reps.length || new Set(reps.map(({ round, outerRound }) => `${outerRound} ${round}`)).size > 1) {
    return [];
  }
  const meanMs = ms(Math.round(spread.meanMs));
  const words = signature.loose.slice(`${set.style}: `.length);
  return [
    { kind: 'mean', mean: { set: words, sendOff, meanMs, handTimed: true, date: dayOf(instant(Math.min(...left))) } },
  ];
}

/** As the squad has it: `@ 1:30`, `@ 1:30 dropping :05`, `rest :20`, `on go`; null where it was changed among the reps. */
function sendOffOf({ release, restMs }: SheetSet, reps: readonly RepTime[]): string | null {
  if (release === 'go') return 'on go';
  // A sheet from before it was kept has only the send-offs that came of a written rest.
  if (release === 'rest') return restMs === undefined ? 'by rest' : `rest ${formatClock(restMs)}`;
  const cycles = reps.map(({ cycleMs }) => cycleMs);
  const [first, second] = cycles;
  if (release === undefined || first === undefined) return null;
  const by = second === undefined ? 0 : first - second;
  if (cycles.some((cycle, rep) => cycle !== first - rep * by) || by < 0) return null;
  return `@ ${formatClock(first)}${by === 0 ? '' : ` dropping ${formatClock(by)}`}`;
}
