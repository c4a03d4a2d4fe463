import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Sheet } from '../../shared-types/sheet.ts';
import { repsOf, sheetOf } from '../fixtures/planning.ts';
import { randomPractice } from '../fixtures/random-practices.ts';
import { LANES, SlowWalk, type WalkLine, walkText } from '../fixtures/slow-walk.ts';

const MOST_SECONDS = 24 * 3600;

/** Every rep's send-off in seconds, lane by lane, when the coach says go at once at every gate. */
function walked(sections: readonly (readonly WalkLine[])[]): number[][] {
  const walk = new SlowWalk(sections);
  const openAll = (): void => {
    for (let gates = walk.shutGates(); gates.length > 0; gates = walk.shutGates()) {
      for (const { place } of gates) walk.open(place);
    }
  };
  openAll();
  while (!walk.isDone() && walk.second < MOST_SECONDS) {
    walk.tick();
    openAll();
  }
  return LANES.map((lane) => walk.departures.filter((one) => one.lane === lane).map(({ second }) => second));
}

const planned = (sheet: Sheet): number[][] =>
  LANES.map((lane) => repsOf(sheet, lane + 1).map(({ atMs }) => atMs / 1000));

describe('compiling random practices', () => {
  it('puts every send-off where a walk second by second finds it', () => {
    fc.assert(
      fc.property(randomPractice, (sections) => {
        expect(planned(sheetOf(walkText(sections)))).toEqual(walked(sections));
      }),
      { numRuns: 200 },
    );
  });

  it('gives all lanes of a join the same place, and leaves no gap on any lane', () => {
    fc.assert(
      fc.property(randomPractice, (sections) => {
        const sheet = sheetOf(walkText(sections));
        for (const lane of sheet.lanes) {
          let at = 0;
          for (const step of lane.steps) {
            expect(step.atMs).toBe(at);
            at += step.durationMs;
          }
          expect(lane.durationMs).toBe(at);
          const gates = lane.steps.filter(({ kind }) => kind === 'gate').map(({ atMs }) => atMs);
          const joins = sheet.joins.filter((join) => join.gate && join.lanes.includes(lane.lane));
          expect(joins.map(({ atMs }) => atMs)).toEqual(gates);
        }
      }),
      { numRuns: 100 },
    );
  });

  it('gives every step of a lane an id of its own', () => {
    fc.assert(
      fc.property(randomPractice, (sections) => {
        for (const { steps } of sheetOf(walkText(sections)).lanes) {
          expect(new Set(steps.map(({ id }) => id)).size).toBe(steps.length);
        }
      }),
      { numRuns: 100 },
    );
  });
});
