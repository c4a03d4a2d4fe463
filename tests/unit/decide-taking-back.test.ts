import { describe, expect, test } from 'vitest';
import { Coach, type Press, started } from '../fixtures/coach.ts';
import { sheetOf, twoLanes } from '../fixtures/sheets.ts';

describe('[CMD2] realign', () => {
  test('[CMD2] takes back what a lane was shifted, however often', () => {
    const coach = started(twoLanes);
    coach.press({ kind: 'shift', lane: 1, byMs: 5000 }, 20);
    coach.press({ kind: 'shift', lane: 1, byMs: 7000 }, 40);
    coach.press({ kind: 'shift', lane: 2, byMs: 4000 }, 45);
    coach.press({ kind: 'shift', lane: 1, byMs: -2000 }, 50);
    coach.press({ kind: 'realign', lane: 1 }, 55);
    expect([coach.where(1, 60), coach.where(2, 60)]).toEqual(['55 moving', '51 moving']);
    expect(coach.replyTo({ kind: 'realign', lane: 1 }, 61)).toBe('Lane 1 swims with the others.');
  });

  test('[CMD2] not what was taken back already, nor what a join or a jump has ended', () => {
    const coach = started(twoLanes);
    coach.press({ kind: 'shift', lane: 1, byMs: 5000 }, 20);
    coach.press({ kind: 'undo' }, 22);
    expect(coach.replyTo({ kind: 'realign', lane: 1 }, 23)).toBe('Lane 1 swims with the others.');
    coach.press({ kind: 'shift', lane: 1, byMs: 5000 }, 30);
    coach.press({ kind: 'next' }, 40);
    expect(coach.replyTo({ kind: 'realign', lane: 1 }, 50)).toBe('Lane 1 swims with the others.');
    const joined = started(twoLanes);
    joined.press({ kind: 'shift', lane: 2, byMs: 5000 }, 30);
    expect(joined.replyTo({ kind: 'realign', lane: 2 }, 260)).toBe('Lane 2 swims with the others.');
  });

  test('[CMD2] is refused when the lane would have to leave before now', () => {
    const coach = started(twoLanes);
    coach.press({ kind: 'shift', lane: 1, byMs: 20_000 }, 10);
    expect(coach.replyTo({ kind: 'realign', lane: 1 }, 80)).toBe('Lane 1 leaves in 5 s: it cannot leave 20 s earlier.');
  });
});

describe('[CMD2] recall', () => {
  const dives = sheetOf(
    { lanes: 2 },
    { meet: 'gate' },
    { reps: 1, every: 0, swim: { set: 0, rep: 1, of: 2 } },
    { meet: 'gate' },
    { reps: 1, every: 0, swim: { set: 0, rep: 2, of: 2 } },
  );

  test('[CMD2] a false start: the lanes stand at the gate again, and nobody has left', () => {
    const coach = started(dives);
    coach.press({ kind: 'go', gate: 1, when: 'now' }, 10);
    expect(coach.place(1, 11).begun).toBeGreaterThan(0);
    const before = started(dives).place(1, 13);
    coach.press({ kind: 'recall' }, 12);
    expect(coach.place(1, 13)).toEqual(before);
    expect(before.state).toBe('at gate');
    expect(coach.events.at(-1)).toMatchObject({ kind: 'recall', takesBack: 2, state: 'running' });
    expect(coach.press({ kind: 'go', gate: 1, when: 'now' }, 20).ok).toBe(true);
  });

  test('[CMD2] also while held, and they stay held', () => {
    const coach = started(dives);
    coach.press({ kind: 'go', gate: 1, when: 'now' }, 10);
    coach.press({ kind: 'hold' }, 11);
    coach.press({ kind: 'recall' }, 12);
    expect(coach.run.state).toBe('held');
    coach.press({ kind: 'resume' }, 20);
    expect(coach.place(2, 30)).toMatchObject({ state: 'at gate' });
    expect(coach.press({ kind: 'go', gate: 1 }, 31).ok).toBe(true);
  });

  test('[CMD2] a start that had a gate before it was a go too: its lanes stand at that gate, the practice goes on', () => {
    const coach = started(dives);
    expect(coach.place(1, 6)).toMatchObject({ begun: 1 });
    coach.press({ kind: 'recall' }, 7);
    expect(coach.events.at(-1)).toMatchObject({ kind: 'recall', takesBack: 1, state: 'running' });
    expect(coach.place(1, 8)).toMatchObject({ state: 'at gate', begun: -1 });
    expect(coach.press({ kind: 'go', gate: 0, when: 'now' }, 20).ok).toBe(true);
    expect(coach.place(2, 21)).toMatchObject({ begun: 1 });
  });

  test('[CMD2] of two blocks that a start lets go, none is recalled', () => {
    const apart = sheetOf(
      { lanes: 2 },
      { meet: 'gate', lanes: [1] },
      { meet: 'gate', lanes: [2] },
      { reps: 1, every: 60 },
    );
    expect(started(apart).replyTo({ kind: 'recall' }, 7)).toBe('There is no go to take back.');
  });

  test('[CMD2] only of a go, and within a minute', () => {
    expect(started(twoLanes).replyTo({ kind: 'recall' }, 10)).toBe('There is no go to take back.');
    const coach = started(dives);
    coach.press({ kind: 'go', gate: 1, when: 'now' }, 10);
    expect(coach.replyTo({ kind: 'recall' }, 71)).toBe('The last go was more than a minute ago.');
  });
});

describe('[CMD6] undo', () => {
  const placesAt = (coach: Coach, seconds: number): string[] => [1, 2].map((lane) => coach.where(lane, seconds));

  test.each<Press>([
    { kind: 'hold' },
    { kind: 'next', when: 'now' },
    { kind: 'back', when: 'now' },
    { kind: 'shift', lane: 1, byMs: 5000 },
    { kind: 'finish' },
  ])('[CMD6] $kind, as if never pressed', (press) => {
    const [coach, untouched] = [started(twoLanes), started(twoLanes)];
    coach.press(press, 30);
    expect(placesAt(coach, 40)).not.toEqual(placesAt(untouched, 40));
    coach.press({ kind: 'undo' }, 45);
    expect(coach.run.state).toBe('running');
    expect(placesAt(coach, 50)).toEqual(placesAt(untouched, 50));
    expect(placesAt(coach, 300)).toEqual(placesAt(untouched, 300));
  });

  test('[CMD6] a resume, and the lanes are held again where they were', () => {
    const coach = started(twoLanes);
    coach.press({ kind: 'hold' }, 30);
    coach.press({ kind: 'resume' }, 40);
    coach.press({ kind: 'undo' }, 50);
    expect(coach.run.state).toBe('held');
    expect(coach.where(1, 60)).toBe('25 standing');
  });

  test('[CMD6] a start only before somebody has left', () => {
    const coach = started(twoLanes);
    expect(coach.replyTo({ kind: 'undo' }, 6)).toBe('Swimmers have left since the start.');
    coach.press({ kind: 'undo' }, 4);
    expect(coach.run.state).toBe('ready');
    expect(coach.press({ kind: 'start' }, 10).ok).toBe(true);
  });

  test('[CMD6] a start at once has sent the first swimmers off already', () => {
    const coach = new Coach(twoLanes);
    coach.press({ kind: 'start', when: 'now' }, 10);
    expect(coach.replyTo({ kind: 'undo' }, 11)).toBe('Swimmers have left since the start.');
  });

  test('[CMD6] within a minute, once, and not after the next press', () => {
    const coach = started(twoLanes);
    coach.press({ kind: 'hold' }, 30);
    expect(coach.replyTo({ kind: 'undo' }, 91)).toBe('The last press was more than a minute ago.');
    coach.press({ kind: 'undo' }, 60);
    expect(coach.replyTo({ kind: 'undo' }, 61)).toBe('The last press has been undone already.');
    expect(new Coach(twoLanes).replyTo({ kind: 'undo' }, 1)).toBe('Nothing has been pressed yet.');
  });

  test('[CMD6] who waited at a join is through it, if the others have come', () => {
    const [coach, untouched] = [started(twoLanes), started(twoLanes)];
    coach.press({ kind: 'shift', lane: 1, byMs: 30_000 }, 235);
    coach.press({ kind: 'undo' }, 260);
    expect(placesAt(coach, 270)).toEqual(placesAt(untouched, 270));
  });

  test('[CMD6] [CMD3] not when another device has pressed since', () => {
    const coach = started(twoLanes);
    const basedOnSeq = coach.run.seq;
    coach.press({ kind: 'hold' }, 30, { device: 2 });
    expect(coach.press({ kind: 'undo' }, 31, { device: 1, basedOnSeq })).toMatchObject({ code: 'overtaken' });
  });
});
