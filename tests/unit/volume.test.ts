import { describe, expect, it } from 'vitest';
import type { Sheet } from '../../shared-types/sheet.ts';
import { styleMinutes, volumesBySection, volumesByStyle } from '../../shared-types/volume.ts';
import { DEMO_PRACTICES, demoSquad, demoText, sheetOf, swimmer, threeLanes } from '../fixtures/planning.ts';

const laneOf = (sheet: Sheet, number: number) => {
  const lane = sheet.lanes.find((candidate) => candidate.lane === number);
  if (!lane) throw new Error(`no lane ${number}`);
  return lane;
};

const sections = (sheet: Sheet, lane: number): string[] =>
  volumesBySection(sheet, laneOf(sheet, lane)).map(
    ({ distance, sets, ms }) => `${distance} in ${sets} sets, ${ms / 1000} s`,
  );

const styles = (sheet: Sheet, lane: number): string[] =>
  [...volumesByStyle(sheet, laneOf(sheet, lane))].map(
    ([style, { distance, sets, ms }]) => `${style}: ${distance} in ${sets} sets, ${ms / 1000} s`,
  );

describe('what a lane swims', () => {
  const sheet = sheetOf(`
    Warm-up: aerobic
    4 x 50 free @ 1:00/1:10/1:20

    Main set: race pace
    2 rounds, :30 between:
      2 x 50 free @ 1:00 at 200 pace
      100 choice easy @ 2:00
    rest 1:00
  `);

  it('goes by section, with the rests in it and the wait for slower lanes before it', () => {
    // By hand. Lane 1: 4 · 60 = 240 s; it waits 80 s for lane 3; then 2 · (2 · 60 + 120) + 30 + 60 = 570 s.
    expect(sections(sheet, 1)).toEqual(['200 in 1 sets, 320 s', '400 in 2 sets, 570 s']);
    expect(sections(sheet, 3)).toEqual(['200 in 1 sets, 320 s', '400 in 2 sets, 570 s']);
  });

  it('goes by style, without rests; the rounds of a set are one set', () => {
    expect(styles(sheet, 1)).toEqual(['aerobic: 200 in 1 sets, 240 s', 'race pace: 400 in 2 sets, 480 s']);
    expect(sheet.byStyle).toEqual({
      aerobic: { distance: 200, sets: 1, minutes: 4 },
      'race pace': { distance: 400, sets: 2, minutes: 8 },
    });
  });

  it('has nothing in a section that is for other lanes', () => {
    const apart = sheetOf('All\n2 x 50 free @ 1:00\n\nSome\nA:\n  2 x 50 free @ 1:00\n');
    expect(sections(apart, 3)).toEqual(['100 in 1 sets, 120 s', '0 in 0 sets, 120 s']);
  });

  it('counts of the heats of a rep only one: nobody swims two', () => {
    const squad = { swimmers: [1, 2, 3].map((place) => swimmer(`Heat ${place}`, 1, 'A', [])) };
    const heats = sheetOf('Main: stand-up\n2 x 25 free dive on go by heat hold 15', squad);
    // Two reps of three heats, 15 s each.
    expect(styles(heats, 1)).toEqual(['stand-up: 50 in 1 sets, 90 s']);
    expect(sections(heats, 1)).toEqual(['50 in 1 sets, 90 s']);
  });

  it('is on the sheet for the lane that swims most', () => {
    const most = sheetOf('4/6/5 x 50 free @ 1:00', threeLanes);
    expect(most.byStyle).toEqual(styleMinutes(most, laneOf(most, 2)));
    expect(Object.values(most.byStyle).map(({ distance }) => distance)).toEqual([300]);
  });

  it.each(DEMO_PRACTICES)('adds up in the %s practice', (name) => {
    const demo = sheetOf(demoText(name), demoSquad());
    for (const lane of demo.lanes) {
      const volumes = volumesBySection(demo, lane);
      expect(volumes.reduce((sum, { ms }) => sum + ms, 0)).toBe(lane.durationMs);
      expect(volumes.reduce((sum, { distance }) => sum + distance, 0)).toBe(lane.distance);
    }
  });
});
