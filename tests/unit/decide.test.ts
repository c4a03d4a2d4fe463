import { describe, expect, test } from 'vitest';
import { Coach, type Press, SETTINGS, started, TOP } from '../fixtures/coach.ts';
import { sheetOf, twoLanes } from '../fixtures/sheets.ts';

/** Seconds after the top of the clock at which the lane sets off. */
const setsOff = (coach: Coach, lane = 1): number => (coach.motion(lane).at - TOP) / 1000;

describe('[RUN4] states', () => {
  const presses: readonly Press[] = [
    { kind: 'start' },
    { kind: 'hold' },
    { kind: 'resume' },
    { kind: 'go', gate: 0 },
    { kind: 'next' },
    { kind: 'nextSet' },
    { kind: 'back' },
    { kind: 'shift', lane: 1, byMs: 5000 },
    { kind: 'realign', lane: 1 },
    { kind: 'recall' },
    { kind: 'undo' },
    { kind: 'finish' },
  ];
  const allowedIn = (coach: Coach): string[] =>
    presses.filter((press) => coach.decision(press, 30).ok).map(({ kind }) => kind);

  test('[RUN4] ready allows start and finish', () => {
    expect(allowedIn(new Coach(twoLanes))).toEqual(['start', 'finish']);
  });

  test('[RUN4] running allows what moves the lanes', () => {
    expect(allowedIn(started(twoLanes))).toEqual(['hold', 'next', 'nextSet', 'back', 'shift', 'finish']);
  });

  test('[RUN4] held allows resume, undo and finish', () => {
    const coach = started(twoLanes);
    coach.press({ kind: 'hold' }, 20);
    expect(allowedIn(coach)).toEqual(['resume', 'undo', 'finish']);
    expect(coach.replyTo({ kind: 'next' }, 30)).toBe('The lanes are held.');
  });

  test('[RUN4] finished allows only to take that back', () => {
    const coach = started(twoLanes);
    coach.press({ kind: 'finish' }, 20);
    expect(coach.run.state).toBe('finished');
    expect(coach.where(1, 100)).toBe('15 standing');
    expect(allowedIn(coach)).toEqual(['undo']);
    expect(coach.press({ kind: 'finish' }, 31)).toMatchObject({ code: 'not-now', message: 'This practice has ended.' });
  });
});

describe('[CMD2] setting off', () => {
  test.each([
    ['grid', 0, 5],
    ['grid', 2, 5],
    ['grid', 2.001, 10],
    ['now', 7.3, 7.3],
    [':00', 1, 60],
    [':15', 12, 15],
    [':15', 12.5, 75],
    [':45', 1, 45],
  ] as const)('[CMD2] %s pressed at %d s sets off at %d s', (when, pressed, leaves) => {
    const coach = new Coach(twoLanes);
    coach.press({ kind: 'start', when }, pressed);
    expect([setsOff(coach, 1), setsOff(coach, 2)]).toEqual([leaves, leaves]);
  });

  test("[CMD2] the reading is the hall's own clock's, trim and all", () => {
    const coach = new Coach(twoLanes, { ...SETTINGS, trimMs: 700 });
    coach.press({ kind: 'start', when: ':00' }, 1);
    expect(setsOff(coach)).toBe(59.3);
  });

  test('[CMD2] the start opens a gate that everything waits behind', () => {
    const sheet = sheetOf({ lanes: 2 }, { meet: 'gate' }, { reps: 2, every: 60 });
    const coach = started(sheet);
    expect(coach.where(1, 6)).toBe('1 moving');
  });

  test('[CMD2] one group may have to wait for go while the other starts', () => {
    const sheet = sheetOf(
      { lanes: 2 },
      { meet: 'gate', lanes: [1] },
      { reps: 1, every: 0, lanes: [1] },
      { meet: 'gate', lanes: [1] },
      { reps: 1, every: 30, lanes: [2] },
      { meet: 'join' },
    );
    const coach = started(sheet);
    expect([coach.where(1, 6), coach.where(2, 6)]).toEqual(['0 at gate', '1 moving']);
  });
});

describe('[CMD2] hold and resume', () => {
  test('[CMD2] held lanes stand where they are and go on so that the next send-off falls on a round reading', () => {
    const coach = started(twoLanes);
    coach.press({ kind: 'hold' }, 41.2);
    expect([coach.where(1, 55), coach.where(2, 55)]).toEqual(['36.2 standing', '36.2 standing']);
    coach.press({ kind: 'resume' }, 100);
    // Lane 1 has 23.8 s to its next send-off: 3 s of lead-in at least, then the next multiple of :05 is 2:10.
    expect(setsOff(coach)).toBe(106.2);
    expect(coach.where(1, 130)).toBe('60 moving');
  });

  test('[CMD2] resumed for :15 the first send-off falls on :15', () => {
    const coach = started(twoLanes);
    coach.press({ kind: 'hold' }, 41.2);
    coach.press({ kind: 'resume', when: ':15' }, 100);
    expect(coach.where(1, 135)).toBe('60 moving');
  });

  test('[CMD2] a hold in the lead-in keeps the rep that was about to begin', () => {
    const coach = started(twoLanes);
    coach.press({ kind: 'hold' }, 3);
    coach.press({ kind: 'resume' }, 20);
    expect(setsOff(coach)).toBe(25);
    expect(coach.place(1, 24)).toMatchObject({ state: 'lead-in', begun: -1 });
  });

  test('[CMD2] a lane put off when the hold comes is still as much later than the others', () => {
    const coach = started(twoLanes);
    coach.press({ kind: 'shift', lane: 2, byMs: 10_000 }, 20);
    coach.press({ kind: 'hold' }, 22);
    coach.press({ kind: 'resume', when: 'now' }, 100);
    expect([setsOff(coach, 1), setsOff(coach, 2)]).toEqual([100, 108]);
  });

  test('[CMD2] who waited at the join when held goes on waiting there', () => {
    const coach = started(twoLanes);
    coach.press({ kind: 'shift', lane: 2, byMs: 20_000 }, 10);
    expect(coach.where(1, 250)).toBe('240 at join');
    coach.press({ kind: 'hold' }, 250);
    expect(coach.where(1, 255)).toBe('240 at join');
    coach.press({ kind: 'resume', when: 'now' }, 300);
    expect([coach.where(1, 310), coach.where(2, 310)]).toEqual(['240 at join', '235 moving']);
    expect([coach.where(1, 316), coach.where(2, 316)]).toEqual(['241 moving', '241 moving']);
  });
});

describe('[CMD3] other devices', () => {
  const since = (device: number, press: Press): Coach['events'][number]['kind'] | string => {
    const coach = started(twoLanes);
    const basedOnSeq = coach.run.seq;
    coach.press({ kind: 'shift', lane: 1, byMs: 5000 }, 20, { device: 1 });
    const decided = coach.decision(press, 21, { device, basedOnSeq });
    return decided.ok ? decided.event.kind : decided.code;
  };

  test("[CMD3] a device's own later events do not overtake it", () => {
    expect(since(1, { kind: 'hold' })).toBe('hold');
  });

  test('[CMD3] shifts commute; anything else after another device is overtaken', () => {
    expect(since(2, { kind: 'shift', lane: 1, byMs: 5000 })).toBe('shift');
    expect(since(2, { kind: 'hold' })).toBe('overtaken');
  });

  test('[CMD3] a shift is overtaken by what is no shift', () => {
    const coach = started(twoLanes);
    coach.press({ kind: 'next' }, 20, { device: 1 });
    expect(coach.decision({ kind: 'shift', lane: 1, byMs: 5000 }, 21, { device: 2, basedOnSeq: 1 })).toMatchObject({
      code: 'overtaken',
    });
  });
});

describe('[CMD4] when a press takes effect', () => {
  test.each([
    [0.4, 30],
    [2, 30],
    [3.5, 31.5],
    [5, 33],
  ])('[CMD4] %d s on the way: a press at 30 s takes effect at %d s', (late, effect) => {
    const decided = started(twoLanes).decision({ kind: 'hold' }, 30, { late });
    expect(decided.ok && [decided.event.at - TOP, decided.event.decidedAt - TOP]).toEqual([
      effect * 1000,
      (30 + late) * 1000,
    ]);
  });

  test('[CMD4] never before what happened last', () => {
    const coach = started(twoLanes);
    coach.press({ kind: 'shift', lane: 1, byMs: 1000 }, 30.5);
    const decided = coach.decision({ kind: 'hold' }, 30, { late: 1 });
    expect(decided.ok && decided.event.at - TOP).toBe(30_500);
  });

  test('[CMD4] too old is stale, from a clock too far ahead is ahead', () => {
    expect(started(twoLanes).decision({ kind: 'hold' }, 30, { late: 5.001 })).toMatchObject({ code: 'stale' });
    expect(started(twoLanes).decision({ kind: 'hold' }, 30, { late: -0.201 })).toMatchObject({ code: 'ahead' });
    expect(started(twoLanes).decision({ kind: 'hold' }, 30, { late: -0.2 })).toMatchObject({ ok: true });
  });

  test('[CMD1] the same command sent ten times acts once and gets the same answer', () => {
    const coach = started(twoLanes);
    const answers = Array.from({ length: 10 }, () => coach.press({ kind: 'next' }, 20, { id: 7 }));
    expect(new Set(answers.map((answer) => JSON.stringify(answer)))).toEqual(new Set(['{"ok":true,"seq":2}']));
    expect(coach.run.seq).toBe(2);
  });
});
