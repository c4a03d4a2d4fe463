import { describe, expect, test } from 'vitest';
import { instant } from '../../shared-types/brand.ts';
import { departureFrom, legAt, placeAt, tracesOf } from '../../shared-types/motion.ts';
import { laneOf, type Sheet } from '../../shared-types/sheet.ts';
import { Coach, TOP, vectors } from '../fixtures/coach.ts';
import { sheetOf } from '../fixtures/sheets.ts';

/** `30 moving`: lane 1's place on its axis in seconds, and why. */
const placeText = (sheet: Sheet, motions: ReturnType<typeof vectors>, seconds: number, lane = 1): string => {
  const found = laneOf(sheet, lane);
  if (!found) throw new Error(`no lane ${lane}`);
  const { position, state } = placeAt(sheet, motions, found, instant(TOP + seconds * 1000));
  return `${position / 1000} ${state}`;
};

const fourHundreds = sheetOf({ lanes: 1 }, { reps: 4, every: 90 });

describe('[RUN1] a lane alone', () => {
  test('[RUN1] moves one for one from its vector on', () => {
    // The W3C Timing Object draft's vector, without its acceleration and at our only speed: position 10 at t = 100.
    const motions = vectors([10, 1, 100]);
    expect(placeText(fourHundreds, motions, 103)).toBe('13 moving');
  });

  test('[RUN1] stands at its position before the vector begins', () => {
    expect(placeText(fourHundreds, vectors([90, 1, 100]), 97)).toBe('90 lead-in');
  });

  test('[RUN1] stands with rate 0, however long', () => {
    expect(placeText(fourHundreds, vectors([42, 0, 100]), 4000)).toBe('42 standing');
  });

  test('[RUN1] is done at its end and stays there', () => {
    expect(placeText(fourHundreds, vectors([0, 1, 0]), 359)).toBe('359 moving');
    expect(placeText(fourHundreds, vectors([0, 1, 0]), 360)).toBe('360 done');
    expect(placeText(fourHundreds, vectors([0, 1, 0]), 9999)).toBe('360 done');
  });
});

describe('[RUN1] joins', () => {
  const sheet = sheetOf(
    { lanes: 2 },
    { reps: 2, every: 60, lanes: [1] },
    { reps: 2, every: 80, lanes: [2] },
    { meet: 'join' },
    { reps: 1, every: 60 },
  );

  test('[RUN1] two lanes on intervals of their own come to the join together when nothing was shifted', () => {
    expect(placeText(sheet, vectors([0, 1, 0], [0, 1, 0]), 160)).toBe('160 moving');
  });

  test('[RUN1] who is early stands until the last lane has arrived, then all go on at that instant', () => {
    const motions = vectors([0, 1, 0], [0, 1, 7]);
    expect(placeText(sheet, motions, 119)).toBe('119 moving');
    expect(placeText(sheet, motions, 120)).toBe('120 at join');
    expect(placeText(sheet, motions, 166.9)).toBe('120 at join');
    expect(placeText(sheet, motions, 167)).toBe('160 moving');
    expect(placeText(sheet, motions, 170)).toBe('163 moving');
    expect(placeText(sheet, motions, 170, 2)).toBe('163 moving');
  });

  test('[RUN1] nobody passes a join that a standing lane has not come to', () => {
    expect(placeText(sheet, vectors([0, 1, 0], [30, 0, 0]), 5000)).toBe('120 at join');
  });

  test('[RUN1] the rest before a join is only waiting: who is put off within it keeps nobody waiting', () => {
    const motions = vectors([0, 1, 25], [0, 1, 0]);
    expect(placeText(sheet, motions, 146)).toBe('120 at join');
    expect(placeText(sheet, motions, 160)).toBe('160 moving');
    expect(placeText(sheet, vectors([0, 1, 45], [0, 1, 0]), 165, 2)).toBe('160 moving');
  });

  test('[RUN1] a lane behind the join is not waited for', () => {
    expect(placeText(sheet, vectors([0, 1, 0], [165, 0, 0]), 119)).toBe('119 moving');
    expect(placeText(sheet, vectors([0, 1, 0], [165, 0, 0]), 122)).toBe('162 moving');
  });

  test('[RUN1] a lane that leaves the very place of a join sets off alone only when the join is behind it', () => {
    const [first, second] = vectors([160, 1, 0], [160, 1, 5]);
    if (!first || !second) throw new Error('two vectors');
    expect(placeText(sheet, [first, second], 3)).toBe('160 at join');
    const behind = [
      { ...first, behind: 1 },
      { ...second, behind: 1 },
    ];
    expect(placeText(sheet, behind, 3)).toBe('163 moving');
    expect(placeText(sheet, behind, 3, 2)).toBe('160 lead-in');
  });

  test('[RUN1] the way is told in legs, and an instant asks for one of them', () => {
    const trace = tracesOf(sheet, vectors([0, 1, 0], [0, 1, 7])).get(sheet.lanes[0]?.lane ?? fail());
    expect(trace?.map(({ at, rate, cause }) => [(at - TOP) / 1000, rate, cause])).toEqual([
      [0, 1, 'vector'],
      [120, 0, 'join'],
      [167, 1, 'join'],
    ]);
    expect(legAt(trace ?? [], instant(TOP + 161_000))?.rate).toBe(0);
    expect(legAt(trace ?? [], instant(TOP - 1))?.cause).toBe('vector');
    expect(departureFrom(trace ?? [], 160_000)).toBe(TOP + 167_000);
    expect(departureFrom(trace ?? [], 20_000)).toBe(TOP + 20_000);
  });
});

describe('[RUN1] gates', () => {
  const released = sheetOf(
    { lanes: 1 },
    { reps: 1, every: 0, swim: { rep: 1, of: 3 } },
    { meet: 'gate' },
    { reps: 1, every: 0, swim: { rep: 2, of: 3 } },
    { meet: 'gate' },
    { reps: 1, every: 30, swim: { rep: 3, of: 3 } },
  );

  test('[RUN1] a lane stands at a shut gate, and goes on once it is open', () => {
    expect(placeText(released, vectors([0, 1, 0, 0]), 1)).toBe('0 at gate');
    expect(placeText(released, vectors([0, 1, 0, 2]), 1)).toBe('1 moving');
  });

  test('[RUN1] where reps last no time, the gates opened tell which one a lane is on', () => {
    const lane = released.lanes[0] ?? fail();
    const steps = [0, 1].map((gates) => {
      const place = placeAt(released, vectors([0, 1, 0, gates]), lane, instant(TOP + 1000));
      return [place.begun, place.step];
    });
    expect(steps).toEqual([
      [0, 1],
      [2, 3],
    ]);
  });

  test('[RUN1] in the lead-in the rep has not begun, though it lasts no time', () => {
    const lane = released.lanes[0] ?? fail();
    const place = placeAt(released, vectors([0, 1, 10, 1]), lane, instant(TOP + 5000));
    expect(place).toMatchObject({ state: 'lead-in', begun: -1, ahead: 2, step: 2 });
  });

  test('[RUN1] groups side by side have gates of their own: one waits, the other swims on', () => {
    const sheet = sheetOf(
      { lanes: 2 },
      { reps: 1, every: 20, lanes: [1] },
      { meet: 'gate', lanes: [1] },
      { reps: 1, every: 20, lanes: [1] },
      { reps: 3, every: 50, lanes: [2] },
      { meet: 'join' },
    );
    const motions = vectors([0, 1, 0], [0, 1, 0]);
    expect(placeText(sheet, motions, 100, 1)).toBe('20 at gate');
    expect(placeText(sheet, motions, 100, 2)).toBe('100 moving');
    expect(placeText(sheet, motions, 200, 2)).toBe('150 done');
  });
});

describe('[RUN3] departures', () => {
  test('[RUN3] a hold between swimmers freezes the gap; who has left has left', () => {
    const coach = new Coach(sheetOf({ lanes: 1, swimmers: 3, apart: 10 }, { reps: 2, every: 60 }));
    coach.press({ kind: 'start', when: ':00' }, 50);
    coach.press({ kind: 'hold' }, 72);
    coach.press({ kind: 'resume', when: 'now' }, 100);
    expect(coach.motion(1)).toMatchObject({ leftOn: 0, leftAt: TOP + 60_000, position: 12_000 });
    coach.press({ kind: 'hold' }, 109);
    // Left at 1:00, 1:10 and, 8 s after the resume, at 1:48.
    expect(coach.motion(1)).toMatchObject({ leftAt: TOP + 60_000, lateMs: [0, 28_000] });
  });
});

function fail(): never {
  throw new Error('the sheet has no such lane');
}
