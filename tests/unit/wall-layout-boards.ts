import fc from 'fast-check';
import type { Screen } from '../../client/wall/legibility.ts';
import type { Board } from '../../shared-types/board/board.ts';
import type { LaneBoard } from '../../shared-types/board/lane.ts';
import type { OwnTime } from '../../shared-types/board/own-times.ts';
import { BOARD_PHASES, LANE_PHASES, type LanePhase } from '../../shared-types/board/phase.ts';
import type { LaneSwimmer } from '../../shared-types/board/timed-rep.ts';
import { instant, laneNumber, ms, swimmerIdSchema } from '../../shared-types/brand.ts';
import type { RepStep, Target } from '../../shared-types/sheet.ts';
import { clockReading, pastTheMinute } from '../../shared-types/time.ts';

/** Boards by hand and at random, for tests of how they are laid out. */

export const AT = instant(Date.UTC(2026, 10, 24, 17, 31, 23));
const NAMES = ['Ada', 'Jonas', 'Mira', 'Wilhelmina', 'Kit', 'Ørjan', 'Maximilian', ''];
/** Long ones, other scripts, accents of their own and a picture of several parts. */
const DIFFICULT_NAMES = [
  'Wilhelmina-Maximiliane zu Quellenhofgang',
  'Γεωργία Παπανικολάου',
  'Всеволод',
  '美咲 渡辺',
  '김서연',
  'مريم الزهراء',
  'Nguye\u0302\u0303n Thi\u0323 Hoa',
  'กิตติพงษ์',
  'Zoe\u0308',
  '👩‍🚀 Kit',
  'WWWWWWWW',
  '',
];

const idOf = (place: number) => swimmerIdSchema.parse(place.toString(16).padStart(32, '0'));

export interface LanePlan {
  readonly phase: LanePhase;
  readonly swimmers: number;
  /** First swimmer's target, ms; null for none. */
  readonly targetMs: number | null;
  readonly countdownMs: number | null;
  readonly rep: number;
  readonly reps: number;
  readonly parts: number;
  readonly names?: readonly string[];
}

function repOf({ rep, reps }: LanePlan): RepStep {
  return {
    id: `4.1.1.${rep}`,
    kind: 'rep',
    atMs: ms(0),
    durationMs: ms(90_000),
    line: 4,
    section: 0,
    set: 0,
    rep,
    reps,
    stroke: 'free',
    start: 'push',
    fromEnd: 'near',
    toEnd: 'near',
    apartMs: ms(5000),
    targets: [],
  };
}

function targetOf(place: number, { targetMs, parts }: LanePlan): Target {
  const whole = targetMs === null ? null : ms(targetMs + place * 400);
  const splits =
    whole === null
      ? []
      : Array.from({ length: parts }, (_, part) => ({
          distance: 50 * (part + 1),
          ms: ms(Math.round((whole * (part + 1)) / parts)),
          paced: true,
        }));
  return { swimmer: idOf(place), ms: whole, restMs: ms(15_000), estimated: false, splits };
}

const isUnderWay = ({ phase }: LanePlan): boolean => ['swimming', 'easy', 'resting'].includes(phase);

/** Late, but not yet so late that it is shown no more: about as wide as it gets. */
const timeOf = ({ swimmer, afterMs, target }: LaneSwimmer, { targetMs }: LanePlan): OwnTime => ({
  swimmer,
  afterMs,
  leftAt: instant(AT - (targetMs === null ? 85_000 : (target?.ms ?? targetMs) + 9000)),
  endsAt: instant(AT + 1000),
});

function laneOf(number: number, plan: LanePlan): LaneBoard {
  const names = plan.names ?? NAMES;
  const nextAt = plan.countdownMs === null ? null : instant(AT + plan.countdownMs);
  const swimmers = Array.from(
    { length: plan.swimmers },
    (_, place): LaneSwimmer => ({
      swimmer: idOf(place),
      label: names[(number * 3 + place) % names.length] ?? '',
      order: place + 1,
      leavesAt: nextAt === null ? null : instant(nextAt + place * 5000),
      afterMs: place * 5000,
      target: targetOf(place, plan),
    }),
  );
  const done = plan.phase === 'done';
  return {
    lane: laneNumber(number),
    group: 'A',
    phase: plan.phase,
    rep: done ? null : repOf(plan),
    nextAt,
    countdownMs: plan.countdownMs === null ? null : ms(plan.countdownMs),
    nextReading: nextAt === null ? null : clockReading(nextAt, 0),
    swimmers: done ? [] : swimmers,
    turn: swimmers[0] ?? null,
    restMs: plan.targetMs === null ? null : ms(15_000),
    markers: [],
    changes: [],
    times: isUnderWay(plan) ? swimmers.map((one) => timeOf(one, plan)) : [],
  };
}

/** A board of these lanes, in the middle of a set. */
export function boardOf(lanes: readonly LaneBoard[], phase: Board['phase'] = 'running'): Board {
  const set = {
    line: 4,
    section: 0,
    style: 'race pace' as const,
    styleReason: '',
    words: '8 × 50 free',
    detail: 'at 200 pace, from a dive',
    activity: 'swim' as const,
    equipment: [],
  };
  return {
    phase,
    at: AT,
    pastMinuteMs: pastTheMinute(AT, 0),
    timeOfDay: '17:31',
    title: 'Tuesday',
    sets: [{ index: 0, section: 'Main set', set }],
    upNext: { set: { index: 1, section: 'Main set', set: { ...set, words: '4 × 100 free kick' } }, at: null },
    lanes,
    waitingGates: [],
  };
}

/** An everyday lane: four swimmers, on their way, about half a minute a rep. */
export const everydayLane = (number: number, change: Partial<LanePlan> = {}): LaneBoard =>
  laneOf(number, {
    phase: 'swimming',
    swimmers: 4,
    targetMs: 29_600 + number * 700,
    countdownMs: 41_000,
    rep: 2,
    reps: 8,
    parts: 1,
    ...change,
  });

export const everydayBoard = (lanes: number): Board =>
  boardOf(Array.from({ length: lanes }, (_, place) => everydayLane(place + 1)));

const lanePlans: fc.Arbitrary<LanePlan> = fc
  .record({
    phase: fc.constantFrom(...LANE_PHASES),
    swimmers: fc.integer({ min: 0, max: 12 }),
    targetMs: fc.option(fc.integer({ min: 9000, max: 700_000 })),
    countdownMs: fc.option(fc.integer({ min: 0, max: 900_000 })),
    reps: fc.integer({ min: 1, max: 40 }),
    parts: fc.integer({ min: 1, max: 3 }),
    names: fc.constantFrom(NAMES, DIFFICULT_NAMES),
  })
  .map((plan) => ({ ...plan, rep: Math.max(1, plan.reps - 1) }));

/** With its swimmers on their way, in the pool as it is or seen from the other side. */
const swum = (lane: LaneBoard, mirrored: boolean): LaneBoard => ({
  ...lane,
  markers: lane.swimmers.map(({ order }) => {
    const along = order / 13;
    return { order, along: mirrored ? 1 - along : along, heading: mirrored ? 'near' : 'far', paced: order % 2 === 0 };
  }),
});

const LONG = 'very long words that no coach would write twice, but one has '.repeat(3);

export const anyBoard: fc.Arbitrary<Board> = fc
  .record({
    plans: fc.array(lanePlans, { minLength: 1, maxLength: 12 }),
    phase: fc.constantFrom(...BOARD_PHASES),
    words: fc.constantFrom('8 × 50 free', LONG),
    sets: fc.integer({ min: 0, max: 3 }),
    gate: fc.boolean(),
    reversed: fc.boolean(),
    mirrored: fc.boolean(),
  })
  .map(({ plans, phase, words, sets, gate, reversed, mirrored }) => {
    const lanes = plans.map((plan, place) => swum(laneOf(place + 1, plan), mirrored));
    const board = boardOf(reversed ? lanes.toReversed() : lanes, phase);
    const shown = board.sets.flatMap((one) =>
      Array.from({ length: sets }, (_, index) => ({ ...one, index, set: { ...one.set, words } })),
    );
    return { ...board, sets: shown, waitingGates: gate ? [0] : [] };
  });

const SIZES = [
  { width: 1280, height: 720 },
  { width: 1366, height: 768 },
  { width: 1920, height: 1080 },
  { width: 3840, height: 2160 },
  { width: 1080, height: 1920 },
  { width: 1024, height: 768 },
  { width: 2560, height: 1080 },
] as const;

export const anyScreen: fc.Arbitrary<Screen> = fc
  .record({
    size: fc.constantFrom(...SIZES),
    diagonalInches: fc.integer({ min: 24, max: 110 }),
    distanceM: fc.integer({ min: 3, max: 30 }),
  })
  .map(({ size, ...seen }) => ({ ...size, ...seen }));
