import { describe, expect, it } from 'vitest';
import type { RepStep, Sheet } from '../../shared-types/sheet.ts';
import { targetsOf } from '../../shared-types/sheet.ts';
import { DEMO_PRACTICES, demoSquad, demoText, sheetOf } from '../fixtures/planning.ts';

/** Facts of the trade, each "common practice, no source", asserted on the sheets of the demo's own practices. */

const squad = demoSquad();
const sheets = new Map(DEMO_PRACTICES.map((name) => [name, sheetOf(demoText(name), squad)]));

function sheet(name: (typeof DEMO_PRACTICES)[number]): Sheet {
  const found = sheets.get(name);
  if (!found) throw new Error(name);
  return found;
}

const reps = (of: Sheet, style: string): RepStep[] =>
  of.lanes.flatMap(({ steps }) =>
    steps.flatMap((step) => (step.kind === 'rep' && of.sets[step.set]?.style === style ? [step] : [])),
  );

describe('the five practices of the demo', () => {
  it('each compile without an error for 24 swimmers in 6 lanes and 3 pace groups', () => {
    expect(squad.swimmers).toHaveLength(24);
    for (const name of DEMO_PRACTICES) {
      expect(sheet(name).lanes).toHaveLength(6);
      expect(sheet(name).groups).toEqual(['A', 'B', 'C']);
    }
  });

  it('a mixed race-pace set of four rounds of short reps comes to about 1,600 of distance (common practice, no source)', () => {
    const set = reps(sheet('race-pace'), 'race pace').filter((step) => step.round !== undefined);
    expect(Math.max(...set.map(({ round }) => round ?? 0))).toBe(4);
    expect(Math.max(...set.map(({ distance }) => distance ?? 0))).toBeLessThanOrEqual(100);
    const volume = sheet('race-pace').byStyle['race pace']?.distance ?? 0;
    expect(volume).toBeGreaterThanOrEqual(1500);
    expect(volume).toBeLessThanOrEqual(1700);
  });

  it('active rest leaves 15 s or less on the wall (common practice, no source)', () => {
    const active = sheet('active-rest');
    const rests = reps(active, 'active rest').flatMap((step) => targetsOf(active, step).map(({ restMs }) => restMs));
    expect(rests).toHaveLength(2 * 8 * 24);
    for (const rest of rests) {
      expect(rest).toBeGreaterThan(0);
      expect(rest).toBeLessThanOrEqual(15_000);
    }
  });

  it('raw-power 25s go on about 2:00, power-endurance 25s on about 1:00 (common practice, no source)', () => {
    const power = sheet('power');
    const cycles = (section: string): number[] =>
      reps(power, 'power')
        .filter((step) => step.distance === 25 && power.sections[step.section]?.name === section)
        .map(({ durationMs }) => durationMs / 1000);
    expect(cycles('Raw power').length).toBeGreaterThan(0);
    expect(cycles('Power endurance').length).toBeGreaterThan(0);
    for (const cycle of cycles('Raw power')) expect(Math.abs(cycle - 120)).toBeLessThanOrEqual(15);
    for (const cycle of cycles('Power endurance')) expect(Math.abs(cycle - 60)).toBeLessThanOrEqual(10);
  });

  it('stand-up 100s from a dive go on about 8:00, 50s on 4:00 to 5:00 (common practice, no source)', () => {
    const dives = reps(sheet('stand-up'), 'stand-up').filter(
      ({ start, heat }) => start === 'dive' && heat === undefined,
    );
    const cycles = (distance: number): number[] =>
      dives.filter((step) => step.distance === distance).map(({ durationMs }) => durationMs / 1000);
    expect(cycles(100).length).toBeGreaterThan(0);
    expect(cycles(50).length).toBeGreaterThan(0);
    for (const cycle of cycles(100)) expect(Math.abs(cycle - 480)).toBeLessThanOrEqual(30);
    for (const cycle of cycles(50)) {
      expect(cycle).toBeGreaterThanOrEqual(240);
      expect(cycle).toBeLessThanOrEqual(300);
    }
  });

  it('best-average work is at 80–90 % of race pace and closes near it (common practice, no source)', () => {
    const average = sheet('best-average');
    const [first] = reps(average, 'best average');
    const shares = reps(average, 'best average')
      .filter((step) => step.line === first?.line)
      .flatMap((step) => targetsOf(average, step).map(({ swimmer, ms }) => shareOfRace(swimmer, step, ms)));
    const mean = shares.reduce((sum, share) => sum + share, 0) / shares.length;
    expect(mean).toBeGreaterThanOrEqual(0.8);
    expect(mean).toBeLessThanOrEqual(0.9 + 0.001);
    expect(Math.max(...shares)).toBeCloseTo(1, 3);
  });

  it('swimmers of a lane leave :05 or :10 apart (common practice, no source)', () => {
    for (const name of DEMO_PRACTICES) {
      for (const { apartMs } of sheet(name).lanes) expect([5000, 10_000]).toContain(apartMs);
    }
  });
});

/** Speed on a rep as a share of the swimmer's even 200 pace, a goal before a best. */
function shareOfRace(id: string, step: RepStep, ms: number | null): number {
  const swimmer = squad.swimmers.find((candidate) => candidate.id === id);
  const races = (swimmer?.references ?? []).filter(({ event }) => event.distance === 200 && event.stroke === 'free');
  const race = races.find(({ kind }) => kind === 'goal') ?? races[0];
  return ((race?.timeMs ?? Number.NaN) * (step.distance ?? 0)) / 200 / (ms ?? Number.NaN);
}
