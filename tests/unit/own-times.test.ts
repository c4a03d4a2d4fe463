import { describe, expect, it } from 'vitest';
import { gapsText, laneLeftAt, runningText } from '../../client/wall/words.ts';
import { boardAt } from '../../shared-types/board/board.ts';
import type { LaneBoard } from '../../shared-types/board/lane.ts';
import { instant } from '../../shared-types/brand.ts';
import type { Sheet } from '../../shared-types/sheet.ts';
import { Coach, TOP } from '../fixtures/coach.ts';
import { type Swim, sheetOf, swimmerId } from '../fixtures/sheets.ts';

/**
 * Common practice, no source: a swimmer reads the own time from the pool's clock at the touch, as the time since the own
 * send-off; who leaves five seconds after the first takes five off.
 */

const LEAVES = 15;
const labels = { [swimmerId(1, 1)]: 'Ana', [swimmerId(1, 2)]: 'Bo', [swimmerId(1, 3)]: 'Cy' };
const forty: Swim = { splits: [[50, 40, true]] };

function started(sheet: Sheet): Coach {
  const coach = new Coach(sheet);
  coach.press({ kind: 'start', when: `:${LEAVES}` }, 2);
  return coach;
}

/** Lane 1 so many seconds after its first send-off. */
function laneAfter(coach: Coach, seconds: number): LaneBoard {
  const at = instant(TOP + (LEAVES + seconds) * 1000);
  const [lane] = boardAt(coach.sheet, coach.run, at, { labels, face: { timezone: 'UTC', trimMs: 0 } }).lanes;
  if (!lane) throw new Error('no lane');
  return lane;
}

/** What each swimmer reads, by name. */
function readAfter(coach: Coach, seconds: number): string[] {
  const { times } = laneAfter(coach, seconds);
  return times.map(({ swimmer, leftAt }) => {
    const sinceMs = TOP + (LEAVES + seconds) * 1000 - leftAt;
    return `${labels[swimmer]} ${runningText(sinceMs)}`;
  });
}

describe('a swimmer’s own time', () => {
  const lane = sheetOf({ lanes: 1, swimmers: 3, apart: 5 }, { reps: 2, every: 60, swim: forty });

  it('counts from the own send-off, so that who holds the target reads it at the touch', () => {
    const coach = started(lane);
    expect(readAfter(coach, -1)).toEqual([]);
    expect(readAfter(coach, 7)).toEqual(['Ana 0:07', 'Bo 0:02']);
    expect(readAfter(coach, 40)).toEqual(['Ana 0:40', 'Bo 0:35', 'Cy 0:30']);
  });

  it('goes on for ten seconds after the target, and no further', () => {
    const coach = started(lane);
    expect(readAfter(coach, 49.9)).toEqual(['Ana 0:49', 'Bo 0:44', 'Cy 0:39']);
    expect(readAfter(coach, 50)).toEqual(['Bo 0:45', 'Cy 0:40']);
  });

  it('of the last in a long line goes on when the first has left again', () => {
    const coach = started(sheetOf({ lanes: 1, swimmers: 3, apart: 10 }, { reps: 2, every: 50, swim: forty }));
    expect(readAfter(coach, 52)).toEqual(['Bo 0:42', 'Cy 0:32', 'Ana 0:02']);
  });

  it('without a target goes on until the next send-off', () => {
    const coach = started(sheetOf({ lanes: 1, swimmers: 1 }, { reps: 2, every: 60 }));
    expect(readAfter(coach, 59)).toEqual(['Ana 0:59']);
    expect(readAfter(coach, 61)).toEqual(['Ana 0:01']);
  });

  it('is over when the practice is', () => {
    const coach = started(lane);
    coach.press({ kind: 'finish' }, LEAVES + 10);
    expect(readAfter(coach, 11)).toEqual([]);
  });

  it('of a whole lane counts from the lane’s send-off; what the others take off stands beside it', () => {
    const coach = started(lane);
    expect(laneLeftAt(laneAfter(coach, 7))).toBe(TOP + LEAVES * 1000);
    expect(laneLeftAt(laneAfter(coach, 62))).toBe(TOP + (LEAVES + 60) * 1000);
    expect(laneLeftAt(laneAfter(coach, -1))).toBeNull();
    expect(gapsText([laneAfter(coach, 7)])).toBe('+5 +10');
  });

  it('has no gaps beside it where lanes leave at different ones', () => {
    const fives = laneAfter(started(lane), 7);
    const tens = laneAfter(started(sheetOf({ lanes: 1, swimmers: 2, apart: 10 }, { reps: 1, every: 60 })), 7);
    const long = laneAfter(started(sheetOf({ lanes: 1, swimmers: 6, apart: 5 }, { reps: 1, every: 60 })), 7);
    expect(gapsText([fives, tens])).toBe('');
    expect(gapsText([fives, long])).toBe('+5 each');
  });
});

describe('the water of a lane', () => {
  /** 15 at pace and 10 easy, out and back. */
  const fifteens: Swim = {
    distance: 50,
    splits: [
      [15, 9, true],
      [25, 17, false],
      [40, 26, true],
      [50, 34, false],
    ],
  };

  it('says where the parts of the rep change between the walls, seen from either end', () => {
    const coach = started(sheetOf({ lanes: 1 }, { reps: 1, every: 60, swim: fifteens }));
    const at = instant(TOP + (LEAVES + 5) * 1000);
    const face = { timezone: 'UTC', trimMs: 0 };
    const seen = (rightEnd: 'near' | 'far') =>
      boardAt(coach.sheet, coach.run, at, { labels, face, rightEnd }).lanes.flatMap(({ changes }) => changes);
    // 15 m out is three fifths of a 25-m pool; back at 40 m the swimmer is 10 m from the start, at the 25 at the wall.
    expect(seen('far')).toEqual([0.4, 0.6]);
    expect(seen('near')).toEqual([0.4, 0.6]);
    const marker = (rightEnd: 'near' | 'far') =>
      boardAt(coach.sheet, coach.run, at, { labels, face, rightEnd }).lanes[0]?.markers[0]?.along ?? 0;
    expect(marker('near')).toBeCloseTo(1 - marker('far'), 12);
    expect(marker('far')).toBeCloseTo((15 * 5) / 9 / 25, 9);
  });
});
