import { describe, expect, test } from 'vitest';
import { tonesBetween } from '../../shared-types/board/tones.ts';
import { instant } from '../../shared-types/brand.ts';
import { Coach, started, TOP } from '../fixtures/coach.ts';
import { sheetOf, twoLanes } from '../fixtures/sheets.ts';

/** Three short and one long: common practice at starts, no source; a second apart is a convention of ours. */

const at = (seconds: number) => instant(TOP + seconds * 1000);

const tonesOf = ({ sheet, run }: Coach, from: number, to: number): string[] =>
  tonesBetween(sheet, run, at(from), at(to)).map((tone) => `${tone.kind} ${(tone.at - TOP) / 1000}`);

/** Seconds after the top of the clock of the long ones. */
const longOnes = ({ sheet, run }: Coach, from: number, to: number): number[] =>
  tonesBetween(sheet, run, at(from), at(to)).flatMap((tone) => (tone.kind === 'long' ? (tone.at - TOP) / 1000 : []));

const LAST = 1000;

describe('tones', () => {
  test('come three, two and one seconds before a send-off that all lanes share, and a long one on it', () => {
    expect(tonesOf(started(twoLanes), 0, 60)).toEqual(['short 2', 'short 3', 'short 4', 'long 5']);
  });

  test('come once, however the time is cut into pieces: after its beginning and up to its end', () => {
    const coach = started(twoLanes);
    const pieces = Array.from({ length: 320 }, (_, second) => tonesOf(coach, second, second + 1));
    expect(pieces.flat()).toEqual(tonesOf(coach, 0, 320));
    expect(tonesOf(coach, 2, 3)).toEqual(['short 3']);
    expect(tonesOf(coach, 3, 4)).toEqual(['short 4']);
  });

  test('do not come where lanes leave on intervals of their own, and come again once they have met', () => {
    // Lane 1 leaves at 5, 65, 125, 185 and lane 2 at 5, 85, 165; they meet 4 · 60 after the start and go on together.
    expect(longOnes(started(twoLanes), 0, LAST)).toEqual([5, 245, 305]);
  });

  test('come where lanes on intervals of their own happen to leave together', () => {
    const sheet = sheetOf({ lanes: 2 }, { reps: 6, every: 40, lanes: [1] }, { reps: 4, every: 60, lanes: [2] });
    expect(longOnes(started(sheet), 0, LAST)).toEqual([5, 125]);
  });

  test('come once for a lane of several swimmers, on the first one', () => {
    const sheet = sheetOf({ lanes: 2, swimmers: 4 }, { reps: 2, every: 60 });
    expect(longOnes(started(sheet), 0, LAST)).toEqual([5, 65]);
  });

  test('do not come for a lane that is put off, until all have met again', () => {
    const coach = started(twoLanes);
    coach.press({ kind: 'shift', lane: 2, byMs: 5000 }, 20);
    // Lane 2 comes to the meeting 5 s late, and lane 1 waits for it.
    expect(longOnes(coach, 20, LAST)).toEqual([250, 310]);
  });

  test('do not come for lanes that start while another waits for the coach', () => {
    const sheet = sheetOf(
      { lanes: 2 },
      { meet: 'gate', lanes: [1] },
      { reps: 1, every: 30, lanes: [1] },
      { meet: 'gate', lanes: [1] },
      { reps: 3, every: 30, lanes: [2] },
      { reps: 1, every: 30, lanes: [1] },
    );
    // The start opens lane 1's first gate; at its second it stands while lane 2 leaves at 35 and 65.
    expect(longOnes(started(sheet), 0, LAST)).toEqual([5]);
  });

  test('come for those who still swim when a lane has no more reps', () => {
    const sheet = sheetOf({ lanes: 2 }, { reps: 2, every: 60 }, { reps: 2, every: 60, lanes: [1] });
    expect(longOnes(started(sheet), 0, LAST)).toEqual([5, 65, 125, 185]);
  });

  test('come for a heat that has nobody in some of the lanes', () => {
    const heat = (nth: number) => ({ reps: 1, every: 0, swim: { heat: nth, heats: 2, rep: 1, of: 1 } });
    const sheet = sheetOf({ lanes: 3, swimmers: 2 }, { meet: 'gate' }, heat(1), { meet: 'gate' }, heat(2), {
      meet: 'gate',
    });
    const present = [2, 1, 0];
    const lanes = sheet.lanes.map((lane, place) => ({ ...lane, swimmers: lane.swimmers.slice(0, present[place]) }));
    const coach = started({ ...sheet, lanes });
    expect(longOnes(coach, 0, LAST)).toEqual([5]);
    coach.press({ kind: 'go', gate: 1 }, 60);
    expect(longOnes(coach, 60, LAST)).toEqual([65]);
  });

  test('wait for the coach where the lanes do', () => {
    const sheet = sheetOf({ lanes: 2 }, { reps: 1, every: 30 }, { meet: 'gate' }, { reps: 1, every: 30 });
    const coach = started(sheet);
    expect(longOnes(coach, 0, LAST)).toEqual([5]);
    coach.press({ kind: 'go', gate: 0 }, 61);
    expect(tonesOf(coach, 61, LAST)).toEqual(['short 62', 'short 63', 'short 64', 'long 65']);
  });
});

describe('tones after a press', () => {
  test('are none before the start, on hold and after the end', () => {
    const coach = new Coach(twoLanes);
    expect(tonesOf(coach, 0, LAST)).toEqual([]);
    coach.press({ kind: 'start' }, 0);
    coach.press({ kind: 'hold' }, 3.5);
    expect(tonesOf(coach, 0, LAST)).toEqual([]);
    coach.press({ kind: 'resume' }, 20);
    expect(longOnes(coach, 20, LAST)).toEqual([25, 265, 325]);
    coach.press({ kind: 'finish' }, 30);
    expect(tonesOf(coach, 20, LAST)).toEqual([]);
  });

  test('are those of the next send-off once the coach goes on to it', () => {
    const coach = started(sheetOf({ lanes: 2 }, { reps: 3, every: 60 }));
    coach.press({ kind: 'next' }, 30);
    expect(longOnes(coach, 30, LAST)).toEqual([35, 95]);
  });

  test('are as before when the press is undone', () => {
    const coach = started(twoLanes);
    const before = tonesOf(coach, 20, LAST);
    coach.press({ kind: 'shift', lane: 2, byMs: 5000 }, 20);
    coach.press({ kind: 'undo' }, 25);
    expect(tonesOf(coach, 25, LAST)).toEqual(before);
  });
});
