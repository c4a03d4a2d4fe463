import { describe, expect, test } from 'vitest';
import { RunDepartures } from '../../server/running/departure-log.ts';
import { instant } from '../../shared-types/brand.ts';
import { type Expected, expectedAt } from '../../shared-types/expected.ts';
import type { Sheet } from '../../shared-types/sheet.ts';
import { type Taking, timedPlacesOf } from '../../shared-types/timed-places.ts';
import { type Coach, started, TOP } from '../fixtures/coach.ts';
import { sheetOf } from '../fixtures/sheets.ts';

function expected(coach: Coach, seconds: number, taken: readonly Expected[] = [], taking: Taking = 'part'): Expected[] {
  const { sheet, events, run } = coach;
  const log = new RunDepartures(sheet, instant(TOP));
  for (const event of events) log.happened(event, sheet);
  const at = instant(TOP + seconds * 1000);
  const finishedAt = run.state === 'finished' ? (run.changedAt ?? null) : null;
  return expectedAt({ sheet, departures: log.upTo(at), taken, finishedAt, taking: () => taking }, 1, at);
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

describe('[CMD5] where in a rep times are taken', () => {
  const at = (sheet: Sheet) => {
    const [rep] = sheet.lanes[0]?.steps ?? [];
    if (rep?.kind !== 'rep') throw new Error('no rep');
    return (taking?: Taking): readonly number[] => timedPlacesOf(sheet, rep, taking);
  };
  const swum = (distance: number, ...splits: [number, number, boolean][]) =>
    sheetOf({ lanes: 1, swimmers: 2, apart: 5 }, { reps: 2, every: 120, swim: { distance, splits } });

  test('[CMD5] where nothing is easy it is the finish, whatever was chosen', () => {
    const places = at(swum(100, [50, 29, true], [100, 60, true]));
    expect([places(), places('part'), places('both')]).toEqual([[100], [100], [100]]);
    expect(at(sheetOf({ lanes: 1 }, { reps: 1, every: 60 }))('both')).toEqual([50]);
  });

  test('[CMD5] where a paced part ends before an easy one it is that end, or the finish, or both', () => {
    const places = at(swum(100, [25, 14, true], [50, 29, true], [100, 75, false]));
    expect([places(), places('finish'), places('both')]).toEqual([[50], [100], [50, 100]]);
  });

  test('[CMD5] of several paced parts each end, the last of which may be the finish', () => {
    expect(at(swum(100, [25, 14, true], [50, 35, false], [75, 49, true], [100, 70, false]))()).toEqual([25, 75]);
    const easyFirst = at(swum(50, [25, 20, false], [50, 34, true]));
    expect([easyFirst(), easyFirst('both')]).toEqual([[50], [50]]);
  });

  test('[CMD5] where it ends in open water only the finish can be seen', () => {
    const form = { lanes: 1, course: 'LCM' } as const;
    const splits: [number, number, boolean][] = [
      [25, 14, true],
      [100, 80, false],
    ];
    expect(at(sheetOf(form, { reps: 1, every: 120, swim: { distance: 100, splits } }))('both')).toEqual([100]);
  });

  const halfEasy = swum(100, [50, 30, true], [100, 80, false]);
  const places = (seconds: number, taking: Taking, taken: readonly Expected[] = []): string[] =>
    expected(started(halfEasy), seconds, taken, taking).map((one) => `${named(one)} at ${one.distance}`);

  test('[CMD5] the end of the paced part comes first, then the finish, each with what is held up to there', () => {
    expect(places(12, 'both')).toEqual(['1 on 1 at 50', '2 on 1 at 50', '1 on 1 at 100', '2 on 1 at 100']);
    const [split, , finish] = expected(started(halfEasy), 12, [], 'both');
    expect(split).toMatchObject({ targetMs: 30_000, dueAt: TOP + 35_000, isFinish: false });
    expect(finish).toMatchObject({ targetMs: 80_000, dueAt: TOP + 85_000, isFinish: true });
    expect(places(36, 'both', split ? [split] : [])).toEqual(['2 on 1 at 50', '1 on 1 at 100', '2 on 1 at 100']);
    expect(places(36, 'part', split ? [split] : [])).toEqual(['2 on 1 at 50']);
  });

  test('[CMD5] an end that nobody took is given up midway to the finish, or with the finish', () => {
    expect(places(59.9, 'part')).toEqual(['1 on 1 at 50', '2 on 1 at 50']);
    expect(places(60, 'part')).toEqual(['2 on 1 at 50']);
    expect(places(60, 'both')).toEqual(['2 on 1 at 50', '1 on 1 at 100', '2 on 1 at 100']);
    const [, , finish] = expected(started(halfEasy), 12, [], 'both');
    expect(places(50, 'both', finish ? [finish] : [])).toEqual(['2 on 1 at 50', '2 on 1 at 100']);
  });
});
