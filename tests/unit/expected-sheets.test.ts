import { readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { planPractice } from '../../server/planning/plan.ts';
import { sheetTable } from '../../server/planning/sheet-table.ts';
import { DEFAULT_POOL } from '../../shared-types/pool.ts';
import { laneOf, type RepStep, type Sheet, type Target, targetsOf } from '../../shared-types/sheet.ts';
import { DEMO_PRACTICES, demoSquad, demoText } from '../fixtures/planning.ts';

/**
 * The sheets of the five demo practices, reviewed and kept as they are printed. When one is meant to change, run this
 * file with FARWALL_SHEETS=keep and look at what changed. Below stands by hand why they are right.
 */

const squad = demoSquad();
const names = Object.fromEntries(squad.swimmers.map(({ id, name }) => [id, name]));

function sheetOf(name: (typeof DEMO_PRACTICES)[number]): Sheet {
  const { sheet, messages } = planPractice(demoText(name), squad, DEFAULT_POOL);
  if (!sheet) throw new Error(JSON.stringify(messages));
  return sheet;
}

describe('the demo practices have the sheets that were reviewed', () => {
  it.each(DEMO_PRACTICES)('%s', (name) => {
    const file = new URL(`../fixtures/expected/${name}.sheet.txt`, import.meta.url);
    const printed = sheetTable(sheetOf(name), names);
    if (process.env.FARWALL_SHEETS === 'keep') writeFileSync(file, printed);
    expect(printed).toBe(readFileSync(file, 'utf8'));
  });
});

const stepsOf = (sheet: Sheet, lane: number, line: number): RepStep[] =>
  (laneOf(sheet, lane)?.steps ?? []).flatMap((step) => (step.kind === 'rep' && step.line === line ? [step] : []));

/** The target of a swimmer on the n-th rep that a lane swims of a line. */
function targetOf(sheet: Sheet, lane: number, line: number, rep: number, name: string): Target {
  const step = stepsOf(sheet, lane, line)[rep - 1];
  const target = step && targetsOf(sheet, step).find(({ swimmer }) => names[swimmer] === name);
  if (!target) throw new Error(`no target of ${name} on line ${line}`);
  return target;
}

/** When a lane sets off on the n-th rep of a line, seconds. */
const leavesAt = (sheet: Sheet, lane: number, line: number, rep = 1): number =>
  (stepsOf(sheet, lane, line)[rep - 1]?.atMs ?? Number.NaN) / 1000;

describe('race pace, by hand', () => {
  const sheet = sheetOf('race-pace');

  it('the 400 easy is over when the last of lane 6 should be back: 2:32.10 · 400/200 ÷ 0.65 = 468 s, and 3 · 5 s behind', () => {
    expect((152.1 * 2) / 0.65 + 15).toBeCloseTo(483, 9);
    expect(leavesAt(sheet, 1, 5)).toBe(483);
  });

  it('then 6 · 70 s and 4 · 60 s: the main set begins at 19:03 in every lane', () => {
    for (const lane of [1, 2, 3, 4, 5, 6]) expect(leavesAt(sheet, lane, 10)).toBe(483 + 420 + 240);
  });

  it('a round is 4 · 40 + 4 · 60 + 140 = 540 s for A, 4 · 50 + 4 · 80 + 160 = 680 s for C, 2:00 between', () => {
    expect(leavesAt(sheet, 1, 10, 5) - leavesAt(sheet, 1, 10)).toBe(540 + 120);
    expect(leavesAt(sheet, 6, 10, 5) - leavesAt(sheet, 6, 10)).toBe(680 + 120);
  });

  it('the swim down waits for C: 1143 + 4 · 680 + 3 · 120 = 4223 s', () => {
    expect(leavesAt(sheet, 1, 16)).toBe(4223);
  });

  it('Ines Valdoro goes by her goal, 1:56.19: 25 in 14.524, 50 in 29.048 and 60 − 29.048 = 30.952 to rest', () => {
    expect(targetOf(sheet, 1, 10, 1, 'Ines Valdoro').ms).toBe(Math.round(116_190 / 8));
    expect(targetOf(sheet, 1, 11, 1, 'Ines Valdoro')).toMatchObject({ ms: 29_048, restMs: 30_952, estimated: false });
  });

  it('Greta Feldrun goes by her best, 2:21.76: 50 in 35.44, and 80 − 35.44 = 44.56 to rest', () => {
    expect(targetOf(sheet, 5, 11, 1, 'Greta Feldrun')).toMatchObject({ ms: 35_440, restMs: 44_560 });
  });
});

describe('active rest, by hand', () => {
  const sheet = sheetOf('active-rest');

  it('Ines Valdoro: 50 in 116.19/4 = 29.048, 50 easy in 29.0475 ÷ 0.65 = 44.688; 85 − 73.736 = 11.264 on the wall', () => {
    const target = targetOf(sheet, 1, 8, 1, 'Ines Valdoro');
    expect(target.splits.map(({ ms }) => ms)).toEqual([29_048, Math.round(29_047.5 + 29_047.5 / 0.65)]);
    expect(target.restMs).toBe(85_000 - 73_736);
  });

  it('Jonas Keldon, 25 at 100 pace of 1:09.79: 17.448; then 50 easy of 2:32.10 in 58.5; 80 − 75.948 = 4.052', () => {
    const target = targetOf(sheet, 6, 10, 1, 'Jonas Keldon');
    expect(target.splits.map(({ ms }) => ms)).toEqual([17_448, 75_948]);
    expect(target.restMs).toBe(4_052);
  });

  it('the second set begins 8 · 85 + 120 = 800 s after the first in lane 1', () => {
    expect(leavesAt(sheet, 1, 10) - leavesAt(sheet, 1, 8)).toBe(800);
  });
});

describe('best average, by hand', () => {
  const sheet = sheetOf('best-average');

  it('the percent goes from 80 to 100 in 11 steps: 29.0475 ÷ 0.8, ÷ 0.90909 at the seventh, and itself at the last', () => {
    const at = (rep: number) => targetOf(sheet, 1, 9, rep, 'Ines Valdoro').ms;
    expect([at(1), at(7), at(12)]).toEqual([36_309, 31_952, 29_048]);
  });

  it('100 at 90 %: 58.095 ÷ 0.9 = 64.55', () => {
    expect(targetOf(sheet, 1, 12, 1, 'Ines Valdoro').ms).toBe(64_550);
  });

  it('the gate comes when the slowest lane has swum: C takes 12 · 100 s', () => {
    expect(leavesAt(sheet, 1, 12) - leavesAt(sheet, 6, 9)).toBe(1200);
  });
});

describe('stand-up, by hand', () => {
  const sheet = sheetOf('stand-up');

  it('all-out reps have no target; 3 · 8:00, then the gate, then 4 · 4:30', () => {
    expect(targetOf(sheet, 1, 8, 1, 'Ines Valdoro')).toMatchObject({ ms: null, splits: [] });
    expect(leavesAt(sheet, 1, 10) - leavesAt(sheet, 1, 8)).toBe(1440);
    expect(leavesAt(sheet, 3, 15) - leavesAt(sheet, 3, 10)).toBe(1080);
  });

  it('swimmers of a lane dive 1:30 apart on the hundreds, :15 on the fifties', () => {
    expect(stepsOf(sheet, 1, 8)[0]?.apartMs).toBe(90_000);
    expect(stepsOf(sheet, 1, 10)[0]?.apartMs).toBe(15_000);
  });

  it('four heats of four dives for A, side by side with 6 · 70 s of back for B and 6 · 80 s for C', () => {
    expect(stepsOf(sheet, 1, 13)).toHaveLength(16);
    expect(leavesAt(sheet, 3, 15, 6) - leavesAt(sheet, 3, 15)).toBe(350);
    expect(leavesAt(sheet, 5, 15, 6) - leavesAt(sheet, 5, 15)).toBe(400);
  });
});

describe('power, by hand', () => {
  const sheet = sheetOf('power');

  it('resisted reps have no target and start where they started: 8 · 2:00, then 4 · 2:00 free', () => {
    const pulled = stepsOf(sheet, 2, 8);
    expect(pulled.every(({ fromEnd }) => fromEnd === 'near')).toBe(true);
    expect(targetOf(sheet, 2, 8, 1, 'Anneke Verhaal').ms).toBeNull();
    expect(leavesAt(sheet, 2, 11) - leavesAt(sheet, 2, 8)).toBe(960);
  });

  it('a round of endurance is 6 · 60 + 90 = 450 s, and 2:00 between', () => {
    const line = sheet.sets.find(({ words }) => words.startsWith('6 × 25'))?.line ?? 0;
    expect(leavesAt(sheet, 1, line, 7) - leavesAt(sheet, 1, line)).toBe(570);
  });
});
