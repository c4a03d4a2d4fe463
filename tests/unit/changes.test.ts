import { describe, expect, test } from 'vitest';
import { instant, type SwimmerId } from '../../shared-types/brand.ts';
import { laneRunOf, sendOffsOf } from '../../shared-types/motion.ts';
import { departuresOf, laneOf, type RepStep, sheetSchema, targetsOf } from '../../shared-types/sheet.ts';
import type { Squad } from '../../shared-types/squad.ts';
import { Coach, type Press, TOP } from '../fixtures/coach.ts';
import { best, pool25, sheetOf, swimmer } from '../fixtures/planning.ts';

const of = (name: string, lane: number, group: string, time: string, more = {}) =>
  swimmer(name, lane, group, [best('200 free', time)], more);

/** Lane 1 of A with three, lane 2 of B with two. */
const squad: Squad = {
  swimmers: [
    of('Ada Vance', 1, 'A', '2:00.00'),
    of('Bela Sorn', 1, 'A', '2:02.00'),
    of('Cato Lind', 1, 'A', '2:04.00'),
    of('Dora Fenn', 2, 'B', '2:20.00'),
    of('Emil Rask', 2, 'B', '2:24.00'),
  ],
};
const [ada, bela, cato, dora] = squad.swimmers.map(({ id }) => id);

const TEXT = `Main set
6 x 50 free @ 1:00/1:10 at 200 pace
4 x 100 free @ 2:00 at 200 pace
`;

/** A practice swum from :05 on, whose sheet can be changed. */
function started(text = TEXT, of: Squad = squad): Coach {
  const coach = new Coach(sheetOf(text, of));
  coach.plan = { text, squad: of, pool: pool25 };
  coach.press({ kind: 'start' }, 0);
  return coach;
}

const change = (what: Record<string, unknown>): Press => ({ kind: 'change', change: what });
const ALL = { kind: 'all' };

const repsOf = (coach: Coach, lane: number): RepStep[] =>
  (laneOf(coach.sheet, lane)?.steps ?? []).flatMap((step) => (step.kind === 'rep' ? [step] : []));

/** When the lane leaves on each rep to come (or in hand), seconds after the top; null where that is not known. */
function leaves(coach: Coach, lane: number): (number | null)[] {
  const run = laneRunOf(coach.sheet, coach.run.motions, coach.motion(lane).lane);
  if (!run) throw new Error(`no lane ${lane}`);
  return run.lane.steps.flatMap((step, index) => {
    if (step.kind !== 'rep') return [];
    const [first = null] = sendOffsOf(run, index);
    return first === null ? [null] : [(first - TOP) / 1000];
  });
}

const whoSwims = (coach: Coach, lane: number, rep: number): SwimmerId[] => {
  const [sheetLane, step] = [laneOf(coach.sheet, lane), repsOf(coach, lane)[rep - 1]];
  return sheetLane && step ? departuresOf(sheetLane, step).map(({ swimmer: id }) => id) : [];
};

describe('[CMD7] a set’s interval, count and gap', () => {
  test('[CMD7] the rep in hand keeps its send-off and its time to the next; the others follow the new interval', () => {
    const coach = started();
    // Rep 2 leaves at 65 s; the interval is changed at 80 s: rep 3 still at 125, then every 70 s.
    coach.press(change({ kind: 'adjust', set: '2', scope: ALL, intervalMs: 70_000 }), 80);
    expect(leaves(coach, 1).slice(1, 6)).toEqual([65, 125, 195, 265, 335]);
    expect(repsOf(coach, 1)[0]?.atMs).toBe(0);
    expect(targetsOf(coach.sheet, repsOf(coach, 1)[2] as RepStep)[0]).toMatchObject({ ms: 30_000, restMs: 40_000 });
  });

  test('[CMD7] for one lane or one pace group only', () => {
    const coach = started();
    coach.press(change({ kind: 'adjust', set: '2', scope: { kind: 'lane', lane: 2 }, intervalMs: 80_000 }), 80);
    expect(leaves(coach, 2).slice(1, 4)).toEqual([75, 145, 225]);
    expect(leaves(coach, 1).slice(1, 4)).toEqual([65, 125, 185]);
    coach.press(change({ kind: 'adjust', set: '3', scope: { kind: 'group', group: 'A' }, intervalMs: 90_000 }), 90);
    expect(
      repsOf(coach, 1)
        .slice(6)
        .map(({ durationMs }) => durationMs),
    ).toEqual([90_000, 90_000, 90_000, 90_000]);
    expect(
      repsOf(coach, 2)
        .slice(6)
        .map(({ durationMs }) => durationMs),
    ).toEqual([120_000, 120_000, 120_000, 120_000]);
  });

  test('[CMD7] in another lane changes nothing for who is still to leave in one that waits already', () => {
    // Ada swims two reps from :05 on and is back at :35; Cato leaves twice ten seconds after Bela.
    const text = 'Main set\n2/4 x 50 free @ :15/1:00 :10 apart\ntogether\n50 free @ 1:00\n';
    const coach = started(text);
    const left = (): (number | null)[] => {
      const run = laneRunOf(coach.sheet, coach.run.motions, coach.motion(1).lane);
      return run ? sendOffsOf(run, 1).map((sendOff) => sendOff && (sendOff - TOP) / 1000) : [];
    };
    expect(coach.where(1, 37)).toBe('30 at join');
    expect(left()).toEqual([20, 30, 40]);
    coach.press(change({ kind: 'adjust', set: '2', scope: { kind: 'lane', lane: 2 }, count: 5 }), 37);
    expect(left()).toEqual([20, 30, 40]);
  });

  test('[CMD7] fewer or more reps', () => {
    const coach = started();
    coach.press(change({ kind: 'adjust', set: '2', scope: ALL, count: 3 }), 80);
    expect(repsOf(coach, 1).map(({ id }) => id)).toEqual([
      '2.0.0.1',
      '2.0.0.2',
      '2.0.0.3',
      '3.0.0.1',
      '3.0.0.2',
      '3.0.0.3',
      '3.0.0.4',
    ]);
    expect(leaves(coach, 1).slice(2, 4)).toEqual([125, 185]);
    coach.press(change({ kind: 'adjust', set: '2', scope: ALL, count: 4 }), 90);
    expect(repsOf(coach, 1).filter(({ set }) => set === 0)).toHaveLength(4);
  });

  test('[CMD7] fewer reps than have been swum: the set is over after the rep in hand', () => {
    const coach = started();
    coach.press(change({ kind: 'adjust', set: '2', scope: ALL, count: 1 }), 80);
    expect(repsOf(coach, 1).map(({ id }) => id)).toEqual([
      '2.0.0.1',
      '2.0.0.2',
      '3.0.0.1',
      '3.0.0.2',
      '3.0.0.3',
      '3.0.0.4',
    ]);
  });

  test('[CMD7] the gap from the next rep on; who is still to leave on this one leaves as before', () => {
    const coach = started();
    coach.press(change({ kind: 'adjust', set: '2', scope: ALL, apartMs: 10_000 }), 66);
    const run = laneRunOf(coach.sheet, coach.run.motions, coach.motion(1).lane);
    const gaps = (index: number) => run && sendOffsOf(run, index).map((at) => at && (at - TOP) / 1000);
    expect(gaps(1)).toEqual([65, 70, 75]);
    expect(gaps(2)).toEqual([125, 135, 145]);
  });

  test('[CMD7] by so much more or less than each lane has: lanes keep their differences', () => {
    const coach = started();
    const by = (more: Record<string, unknown>, scope: Record<string, unknown> = ALL) =>
      change({ kind: 'adjust', set: '2', scope, by: more });
    coach.press(by({ intervalMs: 5000 }), 80);
    expect(leaves(coach, 1).slice(1, 5)).toEqual([65, 125, 190, 255]);
    expect(leaves(coach, 2).slice(1, 5)).toEqual([75, 145, 220, 295]);
    coach.press(by({ intervalMs: 5000, count: -1 }, { kind: 'lane', lane: 2 }), 90);
    coach.press(by({ apartMs: 10_000 }), 95);
    expect(leaves(coach, 2).slice(1, 5)).toEqual([75, 145, 225, 305]);
    expect([1, 2].map((lane) => repsOf(coach, lane).filter(({ set }) => set === 0).length)).toEqual([6, 5]);
    expect(repsOf(coach, 1)[2]?.apartMs).toBe(15_000);
    coach.press(by({ apartMs: -60_000, count: -100 }), 100);
    expect(repsOf(coach, 1).filter(({ set }) => set === 0)).toHaveLength(2);
  });

  test('[CMD7] of an interval that drops from rep to rep the drops stay', () => {
    const coach = started('Main set\n6 x 50 free @ 1:10 dropping :02\n');
    coach.press(change({ kind: 'adjust', set: '2', scope: ALL, by: { intervalMs: 5000 } }), 80);
    expect(repsOf(coach, 1).map(({ durationMs }) => durationMs / 1000)).toEqual([70, 68, 71, 69, 67, 65]);
  });

  test('[CMD7] a set that has been swum, is unknown or has no interval is refused in words', () => {
    const coach = started('Main set\n2 x 50 free @ 1:00\n4 x 25 free on go max\n');
    const adjust = (set: string) => change({ kind: 'adjust', set, scope: ALL, intervalMs: 70_000 });
    expect(coach.replyTo(adjust('9'), 10)).toBe('There is no such set in this practice.');
    expect(coach.replyTo(adjust('3'), 10)).toBe('This set has no send-off interval that could be changed.');
    expect(coach.replyTo(change({ kind: 'adjust', set: '2', scope: ALL }), 10)).toBe('Nothing was changed.');
    coach.press({ kind: 'go', gate: 0, when: 'now' }, 130);
    expect(coach.replyTo(adjust('2'), 140)).toBe('2 × 50 free has been swum.');
  });

  test('[CMD7] a run whose sheet was made before practices could be changed is refused in words', () => {
    const coach = started();
    coach.plan = null;
    expect(coach.replyTo(change({ kind: 'skip', set: '3' }), 10)).toContain('older Farwall');
  });
});

describe('[CMD7] skip and repeat', () => {
  test('[CMD7] what is left of a set is skipped after the rep in hand', () => {
    const coach = started();
    coach.press(change({ kind: 'skip', set: '2' }), 80);
    expect(repsOf(coach, 1).map(({ id }) => id)).toEqual([
      '2.0.0.1',
      '2.0.0.2',
      '3.0.0.1',
      '3.0.0.2',
      '3.0.0.3',
      '3.0.0.4',
    ]);
    expect(leaves(coach, 1).slice(1, 4)).toEqual([65, 125, 245]);
  });

  test('[CMD7] of reps that the coach releases the rep in hand still waits for a go', () => {
    const coach = started('Main set\n4 x 25 free on go max\n4 x 50 free @ 1:00 at 200 pace\n');
    coach.press(change({ kind: 'skip', set: '2' }), 40);
    expect(coach.place(1, 41).state).toBe('at gate');
    const gate = coach.sheet.joins.findIndex((join, index) => join.gate && index > 0);
    coach.press({ kind: 'go', gate, when: 'now' }, 60);
    expect(coach.place(1, 61).state).toBe('moving');
    expect(repsOf(coach, 1).map(({ line }) => line)).toEqual([2, 3, 3, 3, 3]);
  });

  test('[CMD7] a set to come is not swum', () => {
    const coach = started();
    coach.press(change({ kind: 'skip', set: '3' }), 80);
    expect(repsOf(coach, 2)).toHaveLength(6);
  });

  test('[CMD7] a set is swum once more after the round it is in, with steps of its own', () => {
    const coach = started();
    coach.press(change({ kind: 'repeat', set: '2', after: '0.0' }), 80);
    const ids = repsOf(coach, 1).map(({ id }) => id);
    expect(ids.slice(6, 12)).toEqual([1, 2, 3, 4, 5, 6].map((rep) => `2x2.0.0.${rep}`));
    expect(new Set(ids).size).toBe(16);
  });

  test('[CMD7] lanes that wait for a set that is skipped go on at the next reading of the clock', () => {
    const coach = started('Main set\n2 x 50 free @ 1:00/1:20\ntogether\n2 x 100 free @ 2:00\n');
    expect(coach.where(1, 130)).toBe('120 at join');
    coach.press(change({ kind: 'adjust', set: '2', scope: { kind: 'lane', lane: 2 }, count: 1 }), 130);
    expect(coach.where(1, 131)).toBe('120 at join');
    expect(leaves(coach, 1).slice(2, 3)).toEqual(leaves(coach, 2).slice(2, 3));
  });
});

describe('[CMD7] swimmers', () => {
  test('[CMD7] who is moved swims the rep in hand where it was begun, and the next in the other lane at its pace', () => {
    const coach = started();
    coach.press(change({ kind: 'move', swimmer: cato, lane: 2 }), 80);
    expect(whoSwims(coach, 1, 2)).toEqual([ada, bela, cato]);
    expect(whoSwims(coach, 1, 3)).toEqual([ada, bela]);
    expect(whoSwims(coach, 2, 3)).toEqual([dora, squad.swimmers[4]?.id, cato]);
    const [, , third] = repsOf(coach, 2);
    expect(
      third &&
        targetsOf(coach.sheet, third)
          .map(({ swimmer: id, ms }) => [id === cato, ms])
          .at(-1),
    ).toEqual([true, 31_000]);
  });

  test('[CMD7] to a place in the lane', () => {
    const coach = started();
    coach.press(change({ kind: 'move', swimmer: cato, lane: 1, order: 1 }), 80);
    expect(whoSwims(coach, 1, 3)).toEqual([cato, ada, bela]);
  });

  test('[CMD7] who sits out leaves a gap that closes on the next rep, and comes back to the same place', () => {
    const coach = started();
    coach.press(change({ kind: 'sitOut', swimmer: bela }), 80);
    expect(whoSwims(coach, 1, 2)).toEqual([ada, bela, cato]);
    expect(whoSwims(coach, 1, 3)).toEqual([ada, cato]);
    coach.press(change({ kind: 'rejoin', swimmer: bela }), 130);
    expect(whoSwims(coach, 1, 3)).toEqual([ada, cato]);
    expect(whoSwims(coach, 1, 4)).toEqual([ada, bela, cato]);
  });

  test('[CMD7] somebody who had no lane joins one', () => {
    const late = of('Faro Unn', 1, 'A', '2:10.00');
    const { lane: _lane, ...without } = late;
    const coach = started(TEXT, { swimmers: [...squad.swimmers, without] });
    coach.press(change({ kind: 'join', swimmer: late.id, lane: 2, order: 1 }), 80);
    expect(whoSwims(coach, 2, 3)[0]).toBe(late.id);
  });

  test('[CMD7] what makes no sense is refused in words', () => {
    const coach = started();
    expect(coach.replyTo(change({ kind: 'move', swimmer: cato, lane: 5 }), 10)).toBe(
      'Nobody swims in lane 5, so it has nothing to swim.',
    );
    expect(coach.replyTo(change({ kind: 'join', swimmer: cato, lane: 2 }), 10)).toBe(
      'That swimmer is in lane 1 already.',
    );
    expect(coach.replyTo(change({ kind: 'rejoin', swimmer: cato }), 10)).toBe('That swimmer does not sit out.');
    coach.press(change({ kind: 'sitOut', swimmer: cato }), 10);
    expect(coach.replyTo(change({ kind: 'sitOut', swimmer: cato }), 11)).toBe('That swimmer is not in a lane.');
    expect(coach.replyTo(change({ kind: 'move', swimmer: cato, lane: 2 }), 11)).toBe('That swimmer is not in a lane.');
  });
});

describe('[CMD7] always', () => {
  const CHANGES: readonly Record<string, unknown>[] = [
    { kind: 'adjust', set: '2', scope: ALL, intervalMs: 50_000 },
    { kind: 'adjust', set: '2', scope: { kind: 'lane', lane: 1 }, count: 9, apartMs: 3000 },
    { kind: 'skip', set: '2' },
    { kind: 'repeat', set: '2', after: '0.0' },
    { kind: 'move', swimmer: cato, lane: 2, order: 1 },
    { kind: 'sitOut', swimmer: ada },
  ];

  test.each(CHANGES)('[CMD7] [RUN3] what has begun is unchanged, and lanes are where they were: $kind', (what) => {
    for (const seconds of [1, 4.9, 5, 30, 64, 66, 71, 130, 300, 400]) {
      const [coach, untouched] = [started(), started()];
      const answer = coach.press(change(what), seconds);
      if (!answer.ok) continue;
      for (const lane of [1, 2]) {
        const before = untouched.place(lane, seconds);
        expect(coach.place(lane, seconds)).toMatchObject({ position: before.position, begun: before.begun });
        const [steps, old] = [laneOf(coach.sheet, lane)?.steps ?? [], laneOf(untouched.sheet, lane)?.steps ?? []];
        expect(steps.slice(0, before.ahead)).toEqual(old.slice(0, before.ahead));
        const [run, oldRun] = [coach, untouched].map((each) =>
          laneRunOf(each.sheet, each.run.motions, each.motion(lane).lane),
        );
        const left = (of: typeof run) => (of && before.begun >= 0 ? sendOffsOf(of, before.begun) : []);
        expect(left(run)).toEqual(left(oldRun));
        const next = run && sendOffsOf(run, before.ahead)[0];
        expect(next === null || next === undefined || next >= instant(TOP + seconds * 1000)).toBe(true);
      }
      expect(sheetSchema.parse(JSON.parse(JSON.stringify(coach.sheet)))).toEqual(coach.sheet);
    }
  });

  test('[CMD7] a lane that waits for the others, and has to wait longer, waits on in a step of its own', () => {
    const coach = started('Main set\n2 x 50 free @ 1:00/1:20\ntogether\n2 x 100 free @ 2:00\n');
    coach.press(change({ kind: 'adjust', set: '2', scope: { kind: 'lane', lane: 2 }, count: 3 }), 130);
    coach.press(change({ kind: 'adjust', set: '2', scope: { kind: 'lane', lane: 2 }, count: 4 }), 135);
    const ids = laneOf(coach.sheet, 1)?.steps.map(({ id }) => id) ?? [];
    expect(new Set(ids).size).toBe(ids.length);
    expect(leaves(coach, 1).slice(2, 3)).toEqual(leaves(coach, 2).slice(4, 5));
  });

  test('[CMD7] [CMD6] an undo brings the sheet and the lanes back', () => {
    const [coach, untouched] = [started(), started()];
    coach.press(change({ kind: 'adjust', set: '2', scope: ALL, intervalMs: 90_000 }), 80);
    coach.press({ kind: 'undo' }, 100);
    expect(coach.sheet).toEqual(untouched.sheet);
    expect(coach.where(1, 200)).toBe(untouched.where(1, 200));
    coach.press(change({ kind: 'skip', set: '3' }), 210);
    expect(leaves(coach, 1).slice(4, 6)).toEqual([245, 305]);
  });

  test('[CMD7] while held and before the start', () => {
    const coach = started();
    coach.press({ kind: 'hold' }, 80);
    coach.press(change({ kind: 'adjust', set: '2', scope: ALL, intervalMs: 90_000 }), 90);
    expect([coach.run.state, coach.where(1, 95)]).toEqual(['held', '75 standing']);
    const ready = new Coach(sheetOf(TEXT, squad));
    ready.plan = { text: TEXT, squad, pool: pool25 };
    ready.press(change({ kind: 'skip', set: '2' }), 1);
    expect(ready.run.state).toBe('ready');
    expect(repsOf(ready, 1)).toHaveLength(4);
  });
});
