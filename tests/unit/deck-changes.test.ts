import { describe, expect, test } from 'vitest';
import {
  canStep,
  chosenSet,
  lanesIn,
  type SetNow,
  scopesOf,
  setsToChange,
  stepped,
  type What,
} from '../../client/deck/set-changes.ts';
import { scopeDetail, scopeWords, stepWords, valueWords, whereWords } from '../../client/deck/set-words.ts';
import { whoSwims } from '../../client/deck/who-swims.ts';
import { boardAt } from '../../shared-types/board/board.ts';
import { type Instant, instant, laneNumber } from '../../shared-types/brand.ts';
import type { Squad } from '../../shared-types/squad.ts';
import type { Labels } from '../../shared-types/wire/from-server.ts';
import { Coach, TOP } from '../fixtures/coach.ts';
import { best, pool25, sheetOf, swimmer } from '../fixtures/planning.ts';

const of = (name: string, lane: number, group: string, time: string) =>
  swimmer(name, lane, group, [best('200 free', time)]);

const { lane: _, ...late } = of('Faro Unn', 1, 'A', '2:10.00');

/** Lane 1 of A with two, lanes 2 and 3 of B with two and one; Faro has no lane. */
const squad: Squad = {
  swimmers: [
    of('Ada Vance', 1, 'A', '2:00.00'),
    of('Bela Sorn', 1, 'A', '2:02.00'),
    of('Dora Fenn', 2, 'B', '2:20.00'),
    of('Emil Rask', 2, 'B', '2:24.00'),
    of('Gita Holm', 3, 'B', '2:30.00'),
    late,
  ],
};
const [ada, bela, dora, , gita] = squad.swimmers.map(({ id }) => id);
const labels: Labels = Object.fromEntries(squad.swimmers.map(({ id, name }) => [id, name.split(' ')[0] ?? '']));

const TEXT = `Main set
2 rounds:
  4 x 50 free @ 1:00/1:10 at 200 pace
4 x 25 free on go max
100 easy
`;

/** Every practice here sets off at :05 after the top. */
function started(text = TEXT): Coach {
  const coach = new Coach(sheetOf(text, squad));
  coach.plan = { text, squad, pool: pool25 };
  coach.press({ kind: 'start' }, 0);
  return coach;
}

const at = (seconds: number): Instant => instant(TOP + seconds * 1000);

function setsAt({ sheet, run }: Coach, seconds: number): SetNow[] {
  const board = boardAt(sheet, run, at(seconds), { labels: {}, face: { timezone: 'UTC', trimMs: 0 } });
  return setsToChange({ sheet, run }, board, at(seconds));
}

function firstSet(coach: Coach, seconds: number): SetNow {
  const [set] = setsAt(coach, seconds);
  if (!set) throw new Error('there is nothing to change');
  return set;
}

/** Sends a press of the panel. */
const send = (coach: Coach, set: SetNow, lane: number | null, what: What, towards: -1 | 1, seconds: number) =>
  coach.press(
    {
      kind: 'change',
      change: stepped(set, lane === null ? { kind: 'all' } : { kind: 'lane', lane: laneNumber(lane) }, what, towards),
    },
    seconds,
  );

const says = (set: SetNow): string[] =>
  scopesOf(set).map((scope) => [scopeWords(scope), scopeDetail(set, scope)].join(': '));

describe('[CMD7] the sets that a deck can change', () => {
  test('[CMD7] are those that a lane is at or has to come, the one in hand first', () => {
    const coach = started();
    const sets = setsAt(coach, 80);
    expect(sets.map(({ key, words, when }) => [key, words, when])).toEqual([
      ['3', '4 × 50 free at 200 pace', 'now'],
      ['4', '4 × 25 free max', 'to come'],
      ['5', '100 free easy', 'to come'],
    ]);
    expect(chosenSet(sets, null)?.key).toBe('3');
    expect(chosenSet(sets, '5')?.key).toBe('5');
    expect(chosenSet(sets, '9')?.key).toBe('3');
    expect(whereWords(firstSet(coach, 80))).toBe('Main set · now');
    expect(setsAt(coach, 700).map(({ key, when }) => [key, when])).toEqual([
      ['3', 'swum'],
      ['4', 'now'],
      ['5', 'to come'],
    ]);
    coach.press({ kind: 'go', gate: 0, when: 'now' }, 700);
    expect(setsAt(coach, 702).map(({ key, when }) => [key, when])).toEqual([
      ['4', 'now'],
      ['5', 'to come'],
    ]);
  });

  test('[CMD7] are changed for all, a pace group or a lane, each said with what it swims on now', () => {
    const set = firstSet(started(), 80);
    expect(says(set)).toEqual([
      'all lanes: 1:00 / 1:10',
      'group A: lane 1 · 1:00',
      'group B: lanes 2–3 · 1:10',
      'lane 1: 1:00',
      'lane 2: 1:10',
      'lane 3: 1:10',
    ]);
    expect(valueWords(set, 'count', set.lanes)).toBe('4');
    expect(valueWords(set, 'apartMs', lanesIn(set, { kind: 'group', group: 'B' }))).toBe(':05');
  });

  test('[CMD7] say what holds after a press', () => {
    const coach = started();
    send(coach, firstSet(coach, 80), null, 'intervalMs', 1, 80);
    send(coach, firstSet(coach, 81), 2, 'intervalMs', -1, 81);
    send(coach, firstSet(coach, 82), 3, 'count', 1, 82);
    send(coach, firstSet(coach, 83), null, 'apartMs', 1, 83);
    const set = firstSet(coach, 84);
    expect(set.lanes.map(({ intervalMs, count, apartMs }) => [intervalMs, count, apartMs])).toEqual([
      [65_000, 4, 10_000],
      [70_000, 4, 10_000],
      [75_000, 5, 10_000],
    ]);
    expect(valueWords(set, 'count', set.lanes)).toBe('4 / 5');
    coach.press({ kind: 'undo' }, 90);
    expect(firstSet(coach, 91).lanes.map(({ apartMs }) => apartMs)).toEqual([5000, 5000, 5000]);
  });

  test('[CMD7] of a set cut short, the reps there are', () => {
    const coach = started('Main set\n6 x 50 free @ 1:00 at 200 pace\n100 easy\n');
    for (const seconds of [130, 131, 132, 133, 134]) {
      const [set] = setsAt(coach, seconds);
      if (set && canStep('count', -1, set, set.lanes)) send(coach, set, null, 'count', -1, seconds);
    }
    const set = firstSet(coach, 135);
    expect(set.lanes.map(({ count, isAhead }) => [count, isAhead])).toEqual(Array(3).fill([3, false]));
    expect([-1, 1].map((towards) => canStep('count', towards === 1 ? 1 : -1, set, set.lanes))).toEqual([false, true]);
    expect(canStep('intervalMs', 1, set, set.lanes)).toBe(false);
  });

  test('[CMD7] have no send-off to change where the coach says go, and no count where there is one swim', () => {
    const [, onGo, once] = setsAt(started(), 80);
    if (!onGo || !once) throw new Error('three sets are to come');
    expect(valueWords(onGo, 'intervalMs', onGo.lanes)).toBe('on go');
    expect(canStep('intervalMs', 1, onGo, onGo.lanes)).toBe(false);
    expect(canStep('count', 1, onGo, onGo.lanes)).toBe(true);
    expect(canStep('count', 1, once, once.lanes)).toBe(false);
    expect(says(onGo)[0]).toBe('all lanes: 4');
  });

  test('[CMD7] are swum once more after the round of the lane furthest on, by every lane', () => {
    const coach = started();
    // Round 2 of lane 1 leaves at 245 s; lanes 2 and 3 are still on round 1 then.
    const { key, round } = firstSet(coach, 250);
    expect(round).toBe('0.2');
    coach.press({ kind: 'change', change: { kind: 'repeat', set: key, after: round } }, 250);
    const reps = coach.sheet.lanes.map(({ steps }) => steps.filter(({ id }) => id.startsWith('3x2.')).length);
    expect(reps).toEqual([4, 4, 4]);
  });

  test('writes a step as it is pressed', () => {
    expect([stepWords(-5000, 'intervalMs'), stepWords(1, 'count')]).toEqual(['−5 s', '+1']);
  });
});

describe('[CMD7] who swims in a lane', () => {
  const change = (coach: Coach, what: Record<string, unknown>, seconds: number) =>
    coach.press({ kind: 'change', change: what }, seconds);

  /** `Ada swims`, in the order of the panel. */
  const panel = ({ sheet, run }: Coach, lane: number, seconds: number): string[] =>
    whoSwims({ sheet, run, labels }, laneNumber(lane), at(seconds)).map(({ name, is }) => `${name} ${is}`);

  test('[CMD7] its swimmers in the order in which they leave, then who has no lane', () => {
    expect(panel(started(), 1, 80)).toEqual(['Ada swims', 'Bela swims', 'Faro absent']);
    expect(panel(started(), 3, 80)).toEqual(['Gita swims', 'Faro absent']);
  });

  test('[CMD7] who sits out can come back to the own lane and join any other', () => {
    const coach = started();
    change(coach, { kind: 'sitOut', swimmer: ada }, 80);
    expect(panel(coach, 1, 81)).toEqual(['Bela swims', 'Ada out', 'Faro absent']);
    expect(panel(coach, 2, 81)).toEqual(['Dora swims', 'Emil swims', 'Ada absent', 'Faro absent']);
    change(coach, { kind: 'rejoin', swimmer: ada }, 82);
    expect(panel(coach, 1, 83)).toEqual(['Ada swims', 'Bela swims', 'Faro absent']);
  });

  test('[CMD7] who moved away or joined is where they swim from the next rep on', () => {
    const coach = started();
    change(coach, { kind: 'move', swimmer: bela, lane: 3, order: 1 }, 80);
    change(coach, { kind: 'join', swimmer: late.id, lane: 1 }, 81);
    expect(panel(coach, 1, 82)).toEqual(['Ada swims', 'Faro swims']);
    expect(panel(coach, 3, 82)).toEqual(['Bela swims', 'Gita swims']);
    change(coach, { kind: 'sitOut', swimmer: bela }, 83);
    expect(panel(coach, 1, 84)).toContain('Bela absent');
    expect(panel(coach, 3, 84)).toContain('Bela absent');
  });

  test('[CMD7] of a lane that all sit out, those who may come back', () => {
    const coach = started();
    change(coach, { kind: 'sitOut', swimmer: gita }, 80);
    expect(panel(coach, 3, 81)).toEqual(['Gita stays', 'Faro absent']);
    expect(panel(coach, 2, 81)).toEqual(['Dora swims', 'Emil swims', 'Faro absent']);
    expect(change(coach, { kind: 'rejoin', swimmer: gita }, 82).ok).toBe(true);
    expect(panel(coach, 3, 83)).toEqual(['Gita swims', 'Faro absent']);
  });

  test('[CMD7] before the start as well', () => {
    const coach = new Coach(sheetOf(TEXT, squad));
    coach.plan = { text: TEXT, squad, pool: pool25 };
    change(coach, { kind: 'sitOut', swimmer: dora }, 1);
    expect(panel(coach, 2, 2)).toEqual(['Emil swims', 'Dora out', 'Faro absent']);
  });
});
