import { describe, expect, test } from 'vitest';
import { RunDepartures } from '../../server/running/departure-log.ts';
import { instant } from '../../shared-types/brand.ts';
import { Coach, started, TOP } from '../fixtures/coach.ts';
import { sheetOf } from '../fixtures/sheets.ts';

/** `1.1@5`: lane.order on its pass (from the second on) and when, in seconds; of the rep of that name. */
function left({ sheet, events }: Coach, seconds: number, { lane = 1 } = {}): string[] {
  const log = new RunDepartures(sheet, instant(TOP));
  for (const event of events) log.happened(event, sheet);
  return log
    .upTo(instant(TOP + seconds * 1000))
    .filter((departure) => departure.lane === lane)
    .map(({ swimmer, step, pass, at }) => {
      const order = Number.parseInt(swimmer, 16) % 100;
      const rep = step.split('.').at(-1);
      return `${order} on ${rep}${pass > 1 ? ` (${pass})` : ''} at ${(at - TOP) / 1000}`;
    });
}

const pair = sheetOf({ lanes: 2, swimmers: 2, apart: 5 }, { reps: 4, every: 60 });

describe('who left when', () => {
  test('[RUN3] is what the vectors say, up to the instant asked for', () => {
    const coach = started(pair);
    expect(left(coach, 4.9)).toEqual([]);
    expect(left(coach, 66)).toEqual(['1 on 1 at 5', '2 on 1 at 10', '1 on 2 at 65']);
  });

  test('[RUN3] includes who leaves at the very instant of the press', () => {
    const coach = new Coach(pair);
    coach.press({ kind: 'start', when: 'now' }, 2);
    coach.press({ kind: 'next', when: 'now' }, 30);
    expect(left(coach, 31)).toEqual(['1 on 1 at 2', '2 on 1 at 7', '1 on 2 at 30']);
  });

  test('[RUN3] stays as it was whatever is pressed later', () => {
    const coach = started(pair);
    coach.press({ kind: 'hold' }, 70);
    const before = left(coach, 71);
    expect(before).toEqual(['1 on 1 at 5', '2 on 1 at 10', '1 on 2 at 65', '2 on 2 at 70']);
    coach.press({ kind: 'resume', when: 'now' }, 80);
    coach.press({ kind: 'shift', lane: 1, byMs: 5000 }, 81);
    coach.press({ kind: 'next', when: 'now' }, 90);
    expect(left(coach, 91)).toEqual([...before, '1 on 3 at 90']);
  });

  test('[RUN3] a hold freezes the gap too', () => {
    const coach = started(pair);
    coach.press({ kind: 'hold' }, 7);
    expect(left(coach, 60)).toEqual(['1 on 1 at 5']);
    coach.press({ kind: 'resume', when: 'now' }, 60);
    expect(left(coach, 70)).toEqual(['1 on 1 at 5', '2 on 1 at 63']);
  });

  test('[CMD5] a rep that is repeated is left a second time', () => {
    const coach = started(pair);
    coach.press({ kind: 'back', when: 'now' }, 30);
    expect(left(coach, 36)).toEqual(['1 on 1 at 5', '2 on 1 at 10', '1 on 1 (2) at 30', '2 on 1 (2) at 35']);
  });

  test('[CMD6] an undo keeps who has left, and adds who would have left without what is undone', () => {
    const coach = started(pair);
    coach.press({ kind: 'next', when: 'now' }, 30);
    coach.press({ kind: 'undo' }, 33);
    expect(left(coach, 66)).toEqual(['1 on 1 at 5', '2 on 1 at 10', '1 on 2 at 30', '1 on 2 (2) at 65']);
    const held = started(pair);
    held.press({ kind: 'hold' }, 60);
    held.press({ kind: 'undo' }, 67);
    expect(left(held, 71)).toEqual(['1 on 1 at 5', '2 on 1 at 10', '1 on 2 at 65', '2 on 2 at 70']);
  });

  test('[CMD6] who has left on a step that was sent earlier has not left on it twice once that is undone', () => {
    const coach = started(pair);
    coach.press({ kind: 'shift', lane: 1, byMs: -5000 }, 50);
    coach.press({ kind: 'undo' }, 66);
    expect(left(coach, 66)).toEqual(['1 on 1 at 5', '2 on 1 at 10', '1 on 2 at 60', '2 on 2 at 65']);
  });

  test('[CMD2] nobody has left on a go that is recalled, in its lanes', () => {
    const sheet = sheetOf(
      { lanes: 2, swimmers: 2, apart: 5 },
      { reps: 1, every: 60 },
      { meet: 'gate', lanes: [1] },
      { reps: 4, every: 30 },
    );
    const coach = started(sheet);
    coach.press({ kind: 'go', gate: 0, when: 'now' }, 80);
    const inOther = left(coach, 96, { lane: 2 });
    expect(left(coach, 81)).toEqual(['1 on 1 at 5', '2 on 1 at 10', '1 on 3 at 80']);
    coach.press({ kind: 'recall' }, 88);
    expect(left(coach, 200)).toEqual(['1 on 1 at 5', '2 on 1 at 10']);
    expect(left(coach, 96, { lane: 2 })).toEqual(inOther);
    coach.press({ kind: 'go', gate: 0, when: 'now' }, 100);
    expect(left(coach, 101)).toEqual(['1 on 1 at 5', '2 on 1 at 10', '1 on 3 at 100']);
  });
});
