import { describe, expect, test } from 'vitest';
import { type Coach, type Press, started, TOP } from '../fixtures/coach.ts';
import { releasedReps, sheetOf, twoLanes } from '../fixtures/sheets.ts';

/** Seconds after the top of the clock at which the lane sets off. */
const setsOff = (coach: Coach, lane = 1): number => (coach.motion(lane).at - TOP) / 1000;

describe('[CMD2] go', () => {
  test('[CMD2] go opens the gate that lanes stand at, and only once', () => {
    const coach = started(releasedReps);
    expect(coach.where(1, 6)).toBe('0 at gate');
    expect(coach.press({ kind: 'go', gate: 1 }, 10).ok).toBe(true);
    expect(coach.press({ kind: 'go', gate: 1 }, 11)).toMatchObject({ message: 'That go has been given.' });
    expect([coach.where(1, 14), coach.where(1, 20)]).toEqual(['0 lead-in', '5 moving']);
  });

  test('[CMD2] go may cut the last rep short, but not one that has yet to begin', () => {
    const coach = started(releasedReps);
    coach.press({ kind: 'go', gate: 1 }, 10);
    expect(coach.replyTo({ kind: 'go', gate: 2 }, 13)).toBe('Lane 1 is still about to leave on rep 2 of 3.');
    coach.press({ kind: 'go', gate: 2 }, 22);
    expect(coach.place(2, 24)).toMatchObject({ position: 20_000, state: 'lead-in' });
  });

  test('[CMD2] go waits until everybody of the rep in hand has left', () => {
    const sheet = sheetOf(
      { lanes: 1, swimmers: 4, apart: 5 },
      { reps: 1, every: 0 },
      { meet: 'gate' },
      { reps: 1, every: 0 },
    );
    const coach = started(sheet);
    expect(coach.replyTo({ kind: 'go', gate: 0 }, 12)).toBe('In lane 1 somebody leaves in 3 s.');
    expect(coach.replyTo({ kind: 'go', gate: 0 }, 20)).toBe('accepted');
  });

  test('[CMD2] a lane that has nobody in a heat waits at its gate, through a hold too', () => {
    const sheet = sheetOf(
      { lanes: 1, swimmers: 1 },
      { reps: 1, every: 0, swim: { heat: 2, heats: 2 } },
      { meet: 'gate' },
      { reps: 1, every: 30 },
    );
    const coach = started(sheet);
    coach.press({ kind: 'hold' }, 8);
    expect(coach.where(1, 9)).toBe('0 at gate');
    coach.press({ kind: 'resume' }, 10);
    expect(coach.press({ kind: 'go', gate: 0 }, 11).ok).toBe(true);
  });

  test('[CMD2] go names the lane that is not there yet', () => {
    const sheet = sheetOf(
      { lanes: 2 },
      { reps: 2, every: 30, lanes: [1] },
      { reps: 4, every: 30, lanes: [2] },
      { meet: 'gate' },
      { reps: 1, every: 30 },
    );
    expect(started(sheet).replyTo({ kind: 'go', gate: 0 }, 70)).toBe('Lane 2 is still on rep 3 of 4.');
  });

  test("[CMD2] a group's go leaves the other group's vector alone", () => {
    const sheet = sheetOf(
      { lanes: 2 },
      { reps: 1, every: 20, lanes: [1] },
      { meet: 'gate', lanes: [1] },
      { reps: 1, every: 20, lanes: [1] },
      { reps: 2, every: 50, lanes: [2] },
      { meet: 'join' },
    );
    const coach = started(sheet);
    const before = coach.motion(2);
    coach.press({ kind: 'go', gate: 0 }, 40);
    expect(coach.motion(2)).toEqual(before);
    expect(coach.where(1, 50)).toBe('25 moving');
  });

  test('[CMD2] go cannot take a lane over a join that it waits at for a lane of another group', () => {
    const sheet = sheetOf(
      { lanes: 2 },
      { reps: 1, every: 60, lanes: [2] },
      { meet: 'join' },
      { meet: 'gate', lanes: [1] },
      { reps: 1, every: 30 },
    );
    expect(started(sheet).replyTo({ kind: 'go', gate: 1 }, 20)).toBe('Lane 1 waits for lane 2 first.');
  });
});

describe('[CMD2] next', () => {
  test('[CMD2] every lane jumps to its next send-off, all at one instant', () => {
    const coach = started(twoLanes);
    coach.press({ kind: 'next' }, 20);
    expect([coach.where(1, 26), coach.where(2, 26)]).toEqual(['61 moving', '81 moving']);
  });

  test('[CMD2] lanes about to leave keep that send-off', () => {
    const coach = started(twoLanes);
    expect(coach.replyTo({ kind: 'next' }, 1)).toBe('The lanes already leave at :05.');
  });

  test('[CMD2] a lane crosses a join only with the others, and waits there until they have come', () => {
    const coach = started(twoLanes);
    coach.press({ kind: 'next', when: 'now' }, 10);
    coach.press({ kind: 'next', when: 'now' }, 20);
    coach.press({ kind: 'next', when: 'now' }, 30);
    expect([coach.where(1, 31), coach.where(2, 31)]).toEqual(['181 moving', '240 at join']);
    coach.press({ kind: 'next', when: 'now' }, 40);
    expect([coach.where(1, 41), coach.where(2, 41)]).toEqual(['241 moving', '241 moving']);
  });

  test('[CMD2] next never passes a gate: it cuts the rep short, and the coach says go', () => {
    const coach = started(releasedReps);
    expect(coach.replyTo({ kind: 'next' }, 10)).toBe('The lanes wait for your go.');
    coach.press({ kind: 'go', gate: 1, when: 'now' }, 10);
    coach.press({ kind: 'next', when: 'now' }, 15);
    expect(coach.where(1, 16)).toBe('20 at gate');
    coach.press({ kind: 'go', gate: 2, when: 'now' }, 20);
    expect(coach.where(1, 20)).toBe('20 done');
    expect(coach.replyTo({ kind: 'next' }, 30)).toBe('Every lane has swum everything.');
  });

  test('[CMD3] two decks press next together: one advance, one overtaken', () => {
    const coach = started(twoLanes);
    const basedOnSeq = coach.run.seq;
    expect(coach.press({ kind: 'next', when: 'now' }, 20, { device: 1, basedOnSeq })).toEqual({ ok: true, seq: 2 });
    expect(coach.press({ kind: 'next', when: 'now' }, 20.1, { device: 2, basedOnSeq, late: 1 })).toMatchObject({
      code: 'overtaken',
      since: ['another device went to the next send-off 1 s ago'],
    });
    expect(coach.where(1, 21)).toBe('61 moving');
  });
});

describe('[CMD2] nextSet', () => {
  const threeSets = sheetOf(
    { lanes: 2 },
    { reps: 4, every: 60, swim: { set: 0 } },
    { rest: 60 },
    { reps: 3, every: 40, swim: { set: 1 } },
    { meet: 'gate' },
    { reps: 2, every: 30, swim: { set: 2 } },
  );

  test('[CMD2] every lane jumps to the first send-off of its next set', () => {
    const coach = started(threeSets);
    coach.press({ kind: 'nextSet', when: 'now' }, 70);
    expect([coach.where(1, 71), coach.where(2, 71)]).toEqual(['301 moving', '301 moving']);
  });

  test('[CMD2] in the rest before a set that is the set about to begin', () => {
    const coach = started(threeSets);
    coach.press({ kind: 'nextSet', when: 'now' }, 250);
    expect(coach.where(1, 251)).toBe('301 moving');
  });

  test('[CMD2] in the lead-in to a set it is the set after', () => {
    const coach = started(threeSets);
    coach.press({ kind: 'nextSet' }, 70);
    coach.press({ kind: 'nextSet', when: 'now' }, 71);
    expect(coach.where(1, 72)).toBe('420 at gate');
  });

  test('[CMD2] it passes the gates within a set, and stops at the one before the next', () => {
    const sheet = sheetOf(
      { lanes: 1 },
      { reps: 1, every: 0, swim: { set: 0 } },
      { meet: 'gate' },
      { reps: 1, every: 0, swim: { set: 0 } },
      { meet: 'gate' },
      { reps: 1, every: 30, swim: { set: 1 } },
    );
    const coach = started(sheet);
    coach.press({ kind: 'nextSet', when: 'now' }, 10);
    expect(coach.place(1, 11)).toMatchObject({ state: 'at gate' });
    expect(coach.motion(1).gates).toBe(1);
    expect(coach.press({ kind: 'go', gate: 1, when: 'now' }, 20).ok).toBe(true);
    expect(coach.where(1, 25)).toBe('5 moving');
  });
});

describe('[CMD2] back', () => {
  test('[CMD2] back repeats the rep in hand of every lane', () => {
    const coach = started(twoLanes);
    coach.press({ kind: 'back' }, 90);
    expect([coach.where(1, 96), coach.where(2, 96)]).toEqual(['61 moving', '81 moving']);
  });

  test('[CMD2] again during the lead-in it goes one rep further back, and stays at the first', () => {
    const coach = started(twoLanes);
    coach.press({ kind: 'back' }, 90);
    coach.press({ kind: 'back' }, 92);
    expect([coach.where(1, 96), coach.where(2, 96)]).toEqual(['1 moving', '1 moving']);
    coach.press({ kind: 'back' }, 97);
    coach.press({ kind: 'back' }, 98);
    expect(coach.place(1, 99)).toMatchObject({ position: 0, state: 'lead-in', begun: -1 });
  });

  test('[CMD2] back in the lead-in after a go repeats the rep before the gate and shuts it', () => {
    const coach = started(releasedReps);
    coach.press({ kind: 'go', gate: 1 }, 10);
    coach.press({ kind: 'back' }, 12);
    expect(coach.motion(1)).toMatchObject({ position: 0, gates: 1, at: TOP + 15_000 });
    expect(coach.place(1, 16)).toMatchObject({ state: 'at gate', begun: 1 });
    expect(coach.press({ kind: 'go', gate: 1 }, 20).ok).toBe(true);
  });

  test('[CMD2] the gate stays open when a lane behind it has begun its rep', () => {
    const coach = started(releasedReps);
    coach.press({ kind: 'go', gate: 1 }, 10);
    coach.press({ kind: 'shift', lane: 1, byMs: 10_000 }, 11);
    coach.press({ kind: 'back' }, 18);
    expect(coach.run.motions.map(({ gates, position, at }) => [gates, position, (at - TOP) / 1000])).toEqual([
      [2, 0, 25],
      [2, 0, 25],
    ]);
  });

  test('[CMD2] a lane with nothing to repeat before a join waits there for those that have', () => {
    const sheet = sheetOf(
      { lanes: 2 },
      { reps: 1, every: 60 },
      { meet: 'join' },
      { reps: 1, every: 30, lanes: [1] },
      { meet: 'join' },
      { reps: 1, every: 60 },
    );
    const coach = started(sheet);
    coach.press({ kind: 'next' }, 70);
    coach.press({ kind: 'back' }, 72);
    expect([coach.where(1, 80), coach.where(2, 80)]).toEqual(['65 moving', '90 at join']);
    expect(coach.where(2, 106)).toBe('91 moving');
  });
});

describe('[CMD2] shift', () => {
  test('[CMD2] one lane later, until the next join; the others as they were', () => {
    const coach = started(twoLanes);
    coach.press({ kind: 'shift', lane: 2, byMs: 5000 }, 30);
    expect([coach.where(1, 40), coach.where(2, 33), coach.where(2, 40)]).toEqual([
      '35 moving',
      '25 lead-in',
      '30 moving',
    ]);
    expect([coach.where(1, 249), coach.where(1, 251), coach.where(2, 251)]).toEqual([
      '240 at join',
      '241 moving',
      '241 moving',
    ]);
  });

  test('[CMD2] after a join a shift of one lane does not move those that waited there', () => {
    const coach = started(twoLanes);
    coach.press({ kind: 'shift', lane: 2, byMs: 5000 }, 30);
    coach.press({ kind: 'shift', lane: 2, byMs: 10_000 }, 255);
    expect([coach.where(1, 300), coach.where(2, 300)]).toEqual(['290 moving', '280 moving']);
  });

  test('[CMD2] in the lead-in a lane is put off alone', () => {
    const coach = started(twoLanes);
    coach.press({ kind: 'shift', lane: 1, byMs: 10_000 }, 1);
    expect([setsOff(coach, 1), setsOff(coach, 2)]).toEqual([15, 5]);
    coach.press({ kind: 'shift', lane: 1, byMs: -12_000 }, 2);
    expect(setsOff(coach, 1)).toBe(3);
  });

  test('[CMD2] earlier as far as its next send-off, and not further', () => {
    const coach = started(twoLanes);
    expect(coach.replyTo({ kind: 'shift', lane: 1, byMs: -5000 }, 62)).toBe(
      'Lane 1 leaves in 3 s: it cannot leave 5 s earlier.',
    );
    coach.press({ kind: 'shift', lane: 1, byMs: -3000 }, 62);
    expect(coach.place(1, 62)).toMatchObject({ position: 60_000, begun: 1 });
  });

  test('[CMD2] not past somebody who has yet to leave on the rep in hand', () => {
    const coach = started(sheetOf({ lanes: 1, swimmers: 3, apart: 5 }, { reps: 2, every: 60 }));
    expect(coach.replyTo({ kind: 'shift', lane: 1, byMs: -4000 }, 7)).toBe(
      'Lane 1 leaves in 3 s: it cannot leave 4 s earlier.',
    );
  });

  test('[CMD2] in a lead-in nobody is moved over the place where all meet, though it lies right there', () => {
    const sheet = sheetOf(
      { lanes: 2 },
      { reps: 1, every: 0 },
      { meet: 'gate' },
      { meet: 'join' },
      { rest: 10 },
      { reps: 1, every: 60 },
    );
    const coach = started(sheet);
    coach.press({ kind: 'go', gate: 0, when: ':30' }, 10);
    const earlier = (byMs: number): string => coach.replyTo({ kind: 'shift', lane: 2, byMs }, 25);
    expect(earlier(-6000)).toBe('Lane 2 meets the other lanes in 5 s: it cannot do so 6 s earlier.');
    expect(earlier(-5000)).toBe('accepted');
    expect(coach.replyTo({ kind: 'shift', lane: 2, byMs: -6000 }, 31)).toBe('accepted');
  });

  test('[CMD2] who waits at a join or gate, or is done, is refused in words', () => {
    const coach = started(twoLanes);
    coach.press({ kind: 'shift', lane: 2, byMs: 20_000 }, 30);
    const shift: Press = { kind: 'shift', lane: 1, byMs: 1000 };
    expect(coach.replyTo(shift, 250)).toBe('Lane 1 waits for the other lanes, so there is nothing to move.');
    expect(coach.replyTo(shift, 900)).toBe('Lane 1 has swum everything.');
    expect(started(releasedReps).replyTo(shift, 6)).toBe('Lane 1 waits for your go, so there is nothing to move.');
    expect(coach.decision({ kind: 'shift', lane: 9, byMs: 1000 }, 40)).toMatchObject({ code: 'unknown-lane' });
  });
});
