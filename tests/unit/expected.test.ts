import { describe, expect, test } from 'vitest';
import { RunDepartures } from '../../server/running/departure-log.ts';
import { instant } from '../../shared-types/brand.ts';
import { type Expected, expectedAt } from '../../shared-types/expected.ts';
import { type Coach, started, TOP } from '../fixtures/coach.ts';
import { sheetOf } from '../fixtures/sheets.ts';

function expected(coach: Coach, seconds: number, taken: readonly Expected[] = []): Expected[] {
  const { sheet, events, run } = coach;
  const log = new RunDepartures(sheet, instant(TOP));
  for (const event of events) log.happened(event, sheet);
  const at = instant(TOP + seconds * 1000);
  const finishedAt = run.state === 'finished' ? (run.changedAt ?? null) : null;
  return expectedAt({ sheet, departures: log.upTo(at), taken, finishedAt }, 1, at);
}

/** `1 on 2`: order in the lane, and the rep. */
const named = ({ swimmer, step }: Expected): string =>
  `${Number.parseInt(swimmer, 16) % 100} on ${step.split('.').at(-1)}`;
const names = (...args: Parameters<typeof expected>): string[] => expected(...args).map(named);

/** Both hold 30.0. */
const held30 = sheetOf({ lanes: 1, swimmers: 2, apart: 5 }, { reps: 3, every: 60, swim: { splits: [[50, 30, true]] } });
const untargeted = sheetOf({ lanes: 1, swimmers: 1 }, { reps: 3, every: 60 });

describe('[CMD5] who is still to be marked', () => {
  test('[CMD5] is who has left, in the order in which they should come', () => {
    const coach = started(held30);
    expect(names(coach, 4)).toEqual([]);
    expect(names(coach, 6)).toEqual(['1 on 1']);
    expect(names(coach, 34)).toEqual(['1 on 1', '2 on 1']);
    const [first] = expected(coach, 34);
    expect(first).toMatchObject({ distance: 50, pass: 1, leftAt: TOP + 5000, targetMs: 30_000, dueAt: TOP + 35_000 });
    expect(names(coach, 36, first ? [first] : [])).toEqual(['2 on 1']);
  });

  test('[CMD5] who has not come stays expected until leaving again', () => {
    const coach = started(held30);
    expect(names(coach, 64)).toEqual(['1 on 1', '2 on 1']);
    expect(names(coach, 66)).toEqual(['2 on 1', '1 on 2']);
  });

  test('[CMD5] after next, who is still in the water stays expected until 1.5 × the target', () => {
    const coach = started(held30);
    coach.press({ kind: 'next', when: 'now' }, 20);
    expect(names(coach, 49.9)).toEqual(['1 on 1', '2 on 1', '1 on 2', '2 on 2']);
    expect(names(coach, 50)).toEqual(['2 on 1', '1 on 2', '2 on 2']);
    expect(names(coach, 55)).toEqual(['1 on 2', '2 on 2']);
  });

  test('[CMD5] without a target who left again is given ten seconds', () => {
    const coach = started(untargeted);
    expect(names(coach, 74.9)).toEqual(['1 on 1', '1 on 2']);
    expect(names(coach, 75)).toEqual(['1 on 2']);
  });

  test('[CMD5] the end of the practice counts like the next send-off', () => {
    const coach = started(held30);
    coach.press({ kind: 'finish' }, 20);
    expect(names(coach, 49.9)).toEqual(['1 on 1', '2 on 1']);
    expect(names(coach, 55)).toEqual([]);
  });
});
