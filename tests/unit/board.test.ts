import { describe, expect, test } from 'vitest';
import { type Board, type BoardScreen, boardAt, idleBoard } from '../../shared-types/board/board.ts';
import type { LaneBoard } from '../../shared-types/board/lane.ts';
import { inPool, swumAt } from '../../shared-types/board/markers.ts';
import { instant, ms } from '../../shared-types/brand.ts';
import type { Target } from '../../shared-types/sheet.ts';
import { Coach, TOP } from '../fixtures/coach.ts';
import { type Swim, sheetOf, swimmerId } from '../fixtures/sheets.ts';

const screen: BoardScreen = {
  labels: { [swimmerId(1, 1)]: 'Ana', [swimmerId(1, 2)]: 'Bo' },
  face: { timezone: 'UTC', trimMs: 0 },
};

const boardOf = (coach: Coach, seconds: number, on: BoardScreen = screen): Board =>
  boardAt(coach.sheet, coach.run, instant(TOP + seconds * 1000), on);

function laneOn(board: Board, lane = 1): LaneBoard {
  const found = board.lanes.find((each) => each.lane === lane);
  if (!found) throw new Error(`no lane ${lane}`);
  return found;
}

const laneAt = (coach: Coach, seconds: number, lane = 1): LaneBoard => laneOn(boardOf(coach, seconds), lane);

/** 50 at pace in 35 s and 50 easy in 25. */
const fastEasy: Swim = {
  distance: 100,
  splits: [
    [50, 35, true],
    [100, 60, false],
  ],
};

const wholeSet = sheetOf(
  { lanes: 2, swimmers: 2, apart: 5 },
  { reps: 2, every: 80, lanes: [1], swim: fastEasy },
  { reps: 2, every: 90, lanes: [2], swim: fastEasy },
  { meet: 'join' },
  { rest: 30 },
  { reps: 1, every: 70, swim: { set: 1, distance: 50, splits: [[50, 40, true]] } },
  { meet: 'gate' },
  { reps: 1, every: 70, swim: { set: 2, distance: 50, splits: [[50, 40, true]] } },
);

function started(sheet = wholeSet): Coach {
  const coach = new Coach(sheet);
  coach.press({ kind: 'start', when: ':15' }, 2);
  return coach;
}

describe('phases of a lane', () => {
  test('[RUN1] a whole set, from the start to the end', () => {
    const coach = started();
    const phases = (from: number, to: number): string[] => {
      const all = Array.from({ length: to - from }, (_, second) => [from + second, laneAt(coach, from + second).phase]);
      return all.filter(([, phase], place) => phase !== all[place - 1]?.[1]).map(([at, phase]) => `${at} ${phase}`);
    };
    expect(laneAt(new Coach(wholeSet), 0).phase).toBe('ready');
    expect(phases(2, 305)).toEqual([
      '2 ready',
      '10 leaving',
      '15 swimming',
      '50 easy',
      // The second swimmer left 5 s later and is back at 1:20.
      '80 resting',
      '90 leaving',
      '95 swimming',
      '130 easy',
      '160 resting',
      // Lane 1 has swum its two; lane 2 takes 20 s more.
      '175 joining',
      '195 resting',
      '220 leaving',
      '225 swimming',
      '270 resting',
      '295 gate',
    ]);
    coach.press({ kind: 'go', gate: 1, when: 'now' }, 310);
    expect(phases(310, 400)).toEqual(['310 swimming', '355 resting', '380 done']);
  });

  test('[RUN1] while lane 1 waits at the join for a lane that was put off, it says so', () => {
    const coach = started();
    coach.press({ kind: 'shift', lane: 2, byMs: 12_000 }, 100);
    expect(laneAt(coach, 200)).toMatchObject({ phase: 'joining', nextAt: TOP + 237_000, nextReading: ':57' });
  });

  test('[RUN1] a gap of 5 s does not keep the lane in its last five seconds', () => {
    const coach = started();
    expect(laneAt(coach, 16).phase).toBe('swimming');
    expect(laneAt(coach, 16).turn?.order).toBe(2);
  });

  test('[RUN1] a finished practice is done everywhere', () => {
    const coach = started();
    coach.press({ kind: 'finish' }, 40);
    expect(boardOf(coach, 50)).toMatchObject({ phase: 'finished', lanes: [{ phase: 'done' }, { phase: 'done' }] });
  });
});

describe('who leaves when', () => {
  test("[RUN3] before the start nobody has an instant, and it is the first swimmer's turn", () => {
    const lane = laneAt(new Coach(wholeSet), 1);
    expect(lane).toMatchObject({ nextAt: null, countdownMs: null, nextReading: null });
    expect(lane.turn).toMatchObject({ order: 1, label: 'Ana', leavesAt: null });
  });

  test('[RUN3] the turn passes down the lane and then to the next rep', () => {
    const coach = started();
    const turns = [10, 15, 19, 20, 60].map((at) => {
      const { turn } = laneAt(coach, at);
      return [turn?.label, ((turn?.leavesAt ?? TOP) - TOP) / 1000];
    });
    expect(turns).toEqual([
      ['Ana', 15],
      ['Bo', 20],
      ['Bo', 20],
      ['Ana', 95],
      ['Ana', 95],
    ]);
  });

  test('[RUN3] countdown and clock reading are of the next send-off', () => {
    const coach = started();
    expect(laneAt(coach, 60)).toMatchObject({ nextAt: TOP + 95_000, countdownMs: 35_000, nextReading: ':35' });
    const trimmed: BoardScreen = { ...screen, face: { timezone: 'UTC', trimMs: 2000 } };
    expect(laneOn(boardOf(coach, 60, trimmed)).nextReading).toBe(':37');
  });

  test('[RUN3] beyond a shut gate there is no instant', () => {
    const coach = started();
    expect(laneAt(coach, 280)).toMatchObject({ nextAt: null, countdownMs: null, phase: 'resting' });
    expect(laneAt(coach, 300)).toMatchObject({ nextAt: null, phase: 'gate', rep: { set: 2 } });
    expect(boardOf(coach, 300).waitingGates).toEqual([1]);
    expect(boardOf(coach, 280).waitingGates).toEqual([]);
  });

  test('[RUN3] held between two swimmers: the first swims on, the second waits for the resume', () => {
    const coach = started();
    coach.press({ kind: 'hold' }, 18);
    const held = laneAt(coach, 25);
    expect(held.swimmers.map(({ leavesAt }) => leavesAt)).toEqual([TOP + 15_000, null]);
    expect(held).toMatchObject({ phase: 'swimming', nextAt: null, countdownMs: 77_000, turn: { label: 'Bo' } });
    expect(held.markers.map(({ order }) => order)).toEqual([1]);
    coach.press({ kind: 'resume', when: 'now' }, 40);
    expect(laneAt(coach, 41).swimmers.map(({ leavesAt }) => leavesAt)).toEqual([TOP + 15_000, TOP + 42_000]);
    coach.press({ kind: 'hold' }, 45);
    expect(laneAt(coach, 46).swimmers.map(({ leavesAt }) => leavesAt)).toEqual([TOP + 15_000, TOP + 42_000]);
  });

  test('[RUN3] a rep of unknown length is swum at least until the last swimmer has left', () => {
    const sheet = sheetOf(
      { lanes: 1, swimmers: 3, apart: 5 },
      { reps: 1, every: 0 },
      { meet: 'gate' },
      { reps: 1, every: 30 },
    );
    const coach = started(sheet);
    const waiting = (seconds: number) => boardAt(sheet, coach.run, instant(TOP + seconds * 1000), screen).waitingGates;
    expect([laneAt(coach, 16).phase, waiting(16)]).toEqual(['swimming', []]);
    expect([laneAt(coach, 24.9).phase, waiting(24.9)]).toEqual(['swimming', []]);
    expect([laneAt(coach, 25).phase, waiting(25)]).toEqual(['gate', [0]]);
  });

  test('[RUN3] in heats one swimmer leaves, at once', () => {
    const heat = (number: number): Swim => ({ heat: number, heats: 2, splits: [[50, 30, true]] });
    const sheet = sheetOf(
      { lanes: 1, swimmers: 2 },
      { reps: 1, every: 0, swim: heat(1) },
      { meet: 'gate' },
      { reps: 1, every: 0, swim: heat(2) },
      { meet: 'gate' },
    );
    const coach = started(sheet);
    expect(laneAt(coach, 14).turn).toMatchObject({ label: 'Ana', order: 1 });
    // The rep lasts no time on the axis, yet its swimmer is on the way and the gate waits.
    expect(laneAt(coach, 20)).toMatchObject({ phase: 'swimming', turn: { label: 'Bo', order: 2, leavesAt: null } });
    expect(laneAt(coach, 46)).toMatchObject({ phase: 'gate', nextAt: null });
    coach.press({ kind: 'go', gate: 0, when: 'now' }, 50);
    expect(laneAt(coach, 51).swimmers.map(({ label, leavesAt }) => [label, leavesAt])).toEqual([['Bo', TOP + 50_000]]);
    expect(laneAt(coach, 90).phase).toBe('done');
  });

  test('[RUN3] after a hold at the gate the send-off is still the same', () => {
    const sheet = sheetOf(
      { lanes: 1 },
      { reps: 1, every: 0, swim: { splits: [[50, 30, true]] } },
      { meet: 'gate' },
      { reps: 1, every: 0 },
    );
    const coach = started(sheet);
    coach.press({ kind: 'hold' }, 20);
    expect(laneAt(coach, 21)).toMatchObject({ phase: 'swimming', swimmers: [{ leavesAt: TOP + 15_000 }] });
    coach.press({ kind: 'resume' }, 30);
    expect(laneAt(coach, 31)).toMatchObject({ phase: 'swimming', swimmers: [{ leavesAt: TOP + 15_000 }] });
    expect(laneAt(coach, 46).phase).toBe('gate');
  });
});

describe('markers', () => {
  test("run at the pace of each stretch, from the swimmer's own send-off", () => {
    const coach = started();
    expect(laneAt(coach, 15 + 17.5).markers).toEqual([
      { order: 1, along: 1, heading: 'near', paced: true },
      { order: 2, along: expect.closeTo((12.5 / 35) * 2, 9), heading: 'far', paced: true },
    ]);
    expect(laneAt(coach, 15 + 35 + 6.25).markers[0]).toEqual({ order: 1, along: 0.5, heading: 'far', paced: false });
  });

  test('there are none before the send-off, after the touch, or without a target', () => {
    const coach = started();
    expect(laneAt(coach, 14).markers).toEqual([]);
    expect(laneAt(coach, 85).markers).toEqual([]);
    expect(laneAt(started(sheetOf({ lanes: 1 }, { reps: 2, every: 60 })), 30).markers).toEqual([]);
  });

  test('the tail of a long lane is still shown when the first has left again', () => {
    const sheet = sheetOf(
      { lanes: 1, swimmers: 3, apart: 10 },
      { reps: 2, every: 50, swim: { splits: [[50, 40, true]] } },
    );
    expect(laneAt(started(sheet), 15 + 55).markers.map(({ order }) => order)).toEqual([3, 1]);
  });

  test.each([
    [0, 'near', 0, 'far'],
    [10, 'near', 0.4, 'far'],
    [25, 'near', 1, 'near'],
    [40, 'near', 0.4, 'near'],
    [50, 'near', 0, 'far'],
    [60, 'near', 0.4, 'far'],
    [0, 'far', 1, 'near'],
    [10, 'far', 0.6, 'near'],
    [30, 'far', 0.2, 'far'],
  ] as const)('%d m from the %s end of a 25 m pool', (swum, fromEnd, along, heading) => {
    const place = inPool(swum, 'SCM', fromEnd);
    expect(place.along).toBeCloseTo(along, 9);
    expect(place.heading).toBe(heading);
  });

  test('a 50 m pool turns half as often', () => {
    expect(inPool(40, 'LCM', 'near')).toEqual({ along: 0.8, heading: 'far' });
  });

  test('after the last split the marker has arrived', () => {
    const target: Target = {
      swimmer: swimmerId(1, 1),
      ms: ms(60_000),
      restMs: null,
      estimated: false,
      splits: [
        { distance: 50, ms: ms(35_000), paced: true },
        { distance: 100, ms: ms(60_000), paced: false },
      ],
    };
    expect(swumAt(target, 0)).toEqual({ swum: 0, paced: true });
    expect(swumAt(target, 35_000)).toEqual({ swum: 50, paced: false });
    expect(swumAt(target, 99_000)).toEqual({ swum: 100, paced: false });
  });
});

describe('the board', () => {
  test('with nothing on it is a pace clock', () => {
    expect(idleBoard(instant(TOP + 83_250), { timezone: 'UTC', trimMs: 1000 })).toMatchObject({
      phase: 'idle',
      pastMinuteMs: 24_250,
      lanes: [],
    });
  });

  test('shows the lanes it is asked for, in that order, and leaves out those nobody swims in', () => {
    const board = boardOf(started(), 20, { ...screen, lanes: [7, 2, 1] });
    expect(board.lanes.map(({ lane }) => lane)).toEqual([2, 1]);
  });

  test('says which set is on, and which comes next and when', () => {
    const coach = started();
    expect(boardOf(coach, 20)).toMatchObject({ sets: [{ index: 0 }], upNext: { set: { index: 1 }, at: null } });
    // On their last rep of the set both lanes leave for the next at 3:45, after the join and the rest.
    expect(boardOf(coach, 120).upNext).toMatchObject({ set: { index: 1 }, at: TOP + 225_000 });
    expect(boardOf(coach, 230)).toMatchObject({ sets: [{ index: 1 }], upNext: { set: { index: 2 }, at: null } });
    expect(boardOf(coach, 300)).toMatchObject({ sets: [{ index: 2 }], upNext: null });
  });

  test('is held as long as the run is', () => {
    const coach = started();
    coach.press({ kind: 'hold' }, 60);
    expect(boardOf(coach, 75).phase).toBe('held');
    expect(laneAt(coach, 200)).toMatchObject({ phase: 'resting', countdownMs: 35_000, markers: [] });
  });
});

describe('a swimmer whose name a wall is not told', () => {
  test('is called by the place in the lane', () => {
    const nameless: BoardScreen = { labels: {}, face: screen.face };
    const { swimmers, turn } = laneOn(boardOf(started(), 0, nameless));
    expect(swimmers.map(({ label }) => label)).toEqual(['1st', '2nd']);
    expect(turn?.label).toBe('1st');
  });
});
