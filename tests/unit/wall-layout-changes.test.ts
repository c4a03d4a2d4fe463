import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Box } from '../../client/wall/boxes.ts';
import { unchangedFor } from '../../client/wall/changes.ts';
import { layOut } from '../../client/wall/lay-out.ts';
import type { Screen } from '../../client/wall/legibility.ts';
import { planPractice } from '../../server/planning/plan.ts';
import { type Board, boardAt } from '../../shared-types/board/board.ts';
import { instant, laneNumber, ms, runIdSchema, sheetHashSchema, swimmerIdSchema } from '../../shared-types/brand.ts';
import { newRun } from '../../shared-types/fold.ts';
import { DEFAULT_POOL } from '../../shared-types/pool.ts';

const START = instant(Date.UTC(2026, 10, 24, 17, 30));
const TV: Screen = { width: 1920, height: 1080, diagonalInches: 98, distanceM: 6 };
const PRACTICE = 'Main set\n3 x 50 free @ 1:00 at 200 pace\n2 x 25 fly @ :40 max\n';

const swimmers = [1, 2, 3, 4].map((place) => ({
  id: swimmerIdSchema.parse(String(place).padStart(32, '0')),
  name: `Swimmer ${place}`,
  lane: laneNumber(Math.ceil(place / 2)),
  references: [
    {
      event: { distance: 200, stroke: 'free' as const, activity: 'swim' as const },
      course: 'SCM' as const,
      timeMs: ms(120_000 + place * 3700),
      kind: 'best' as const,
    },
  ],
}));

/** What is shown so many milliseconds after the start of a small practice; lane 2 is half a second behind. */
function boardAfter(sinceMs: number): Board {
  const { sheet } = planPractice(PRACTICE, { swimmers }, DEFAULT_POOL);
  if (!sheet) throw new Error('the practice cannot be planned');
  const fresh = newRun(runIdSchema.parse('1'.repeat(32)), sheetHashSchema.parse('1'.repeat(64)), sheet, START);
  const motions = fresh.motions.map((motion) => ({
    ...motion,
    rate: 1 as const,
    at: instant(START + (motion.lane - 1) * 500),
  }));
  const labels = Object.fromEntries(swimmers.map(({ id, name }) => [id, name]));
  const run = { ...fresh, state: 'running' as const, motions };
  const face = { timezone: 'UTC', trimMs: 0 };
  return boardAt(sheet, run, instant(START + sinceMs), { labels, face });
}

const pictureAfter = (sinceMs: number): string => JSON.stringify(layOut(boardAfter(sinceMs), TV).boxes);

describe('when a wall draws', () => {
  it('never sleeps through a change of what it shows', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -8000, max: 280_000 }),
        fc.double({ min: 0, max: 0.999, noNaN: true }),
        (at, part) => {
          const asleepMs = unchangedFor(boardAfter(at));
          if (asleepMs === 0) return;
          expect(pictureAfter(at + Math.floor(asleepMs * part))).toBe(pictureAfter(at));
        },
      ),
      { numRuns: 400 },
    );
  });

  it('wakes when a time is shown no more', () => {
    const ended = boardAfter(166_651).lanes.flatMap(({ times }) => times.map(({ endsAt }) => endsAt - START));
    expect(ended.length).toBeGreaterThan(0);
    for (const endsMs of ended) {
      expect(pictureAfter(endsMs)).not.toBe(pictureAfter(endsMs - 1));
      expect(unchangedFor(boardAfter(endsMs - 20))).toBe(20);
    }
  });

  it('says which instant it shows at least every 250 ms', () => {
    fc.assert(
      fc.property(fc.integer({ min: -8000, max: 400_000 }), (at) => {
        expect(unchangedFor(boardAfter(at))).toBeLessThanOrEqual(250);
      }),
    );
  });

  it('draws every frame while swimmers are on their way at a target, and only then', () => {
    expect(unchangedFor(boardAfter(12_000))).toBe(0);
    expect(unchangedFor(boardAfter(47_000))).toBeGreaterThan(0);
  });
});

describe('a band about to be left', () => {
  it('changes at most three times in any second', () => {
    // WCAG 2.2, success criterion 2.3.1: no more than three flashes in any one second.
    const bandAt = (sinceMs: number): string => {
      const { boxes } = layOut(boardAfter(sinceMs), TV);
      const light = (box: Box): boolean => box.kind === 'panel' && box.id.startsWith('lane1');
      return JSON.stringify(boxes.filter(light));
    };
    const frames = Array.from({ length: 12 * 50 }, (_, frame) => 52_000 + frame * 20);
    const changes = frames.filter((at) => bandAt(at) !== bandAt(at - 20));
    expect(changes.length).toBeGreaterThan(1);
    for (const at of changes)
      expect(changes.filter((other) => other >= at && other < at + 1000).length).toBeLessThanOrEqual(3);
  });
});
