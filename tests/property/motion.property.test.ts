import fc from 'fast-check';
import { expect, test } from 'vitest';
import { instant } from '../../shared-types/brand.ts';
import { laneRunOf, placeAt, sendOffsOf } from '../../shared-types/motion.ts';
import { Coach, type Press, TOP } from '../fixtures/coach.ts';
import { type RandomPractice, randomPractice, randomPresses } from '../fixtures/random-sheets.ts';
import { writeSheet } from '../fixtures/sheets.ts';
import { WalkedRun } from '../fixtures/walked-run.ts';

interface Timed {
  readonly press: Press;
  readonly afterTicks: number;
}

type See = (coach: Coach, walked: WalkedRun) => void;

/** Presses everything on a coach and a walker alike, and calls `see` at every tick. */
function runBoth({ form, lines }: RandomPractice, presses: readonly Timed[], see: See) {
  const written = writeSheet(form, lines);
  const coach = new Coach(written.sheet);
  const walked = new WalkedRun(written, TOP);
  const start: Timed = { press: { kind: 'start' }, afterTicks: 0 };
  for (const { press, afterTicks } of [start, ...presses, { press: { kind: 'hold' as const }, afterTicks: 400 }]) {
    for (let tick = 0; tick < afterTicks; tick += 1) {
      walked.walk();
      see(coach, walked);
    }
    const before = coach.run.motions;
    const answer = coach.press(press, (walked.t - TOP) / 1000);
    const event = answer.ok ? coach.events.at(-1) : undefined;
    if (event) walked.press(press, event, before);
    see(coach, walked);
  }
}

const ALL = [1, 2, 3];

/** Found by chance once; kept since chance finds such seldom. */
const FOUND: [RandomPractice, Timed[]][] = [
  // A lane moved earlier into its rest before a join, with a gate right behind it.
  [
    {
      form: { lanes: 3, swimmers: 2, apart: 3 },
      lines: [
        { reps: 1, every: 30, lanes: [2] },
        { reps: 2, every: 16, lanes: [3] },
        { meet: 'join', lanes: ALL },
        { reps: 1, every: 0, lanes: ALL, swim: { rep: 1, of: 1 } },
        { meet: 'gate', lanes: ALL },
      ],
    },
    [
      { press: { kind: 'next', when: 'grid' }, afterTicks: 20 },
      { press: { kind: 'back', when: 'grid' }, afterTicks: 29 },
      { press: { kind: 'shift', lane: 2, byMs: -3250 }, afterTicks: 94 },
      { press: { kind: 'shift', lane: 2, byMs: -6750 }, afterTicks: 18 },
    ],
  ],
  // A lane moved earlier within its lead-in at a gate with a join right behind it.
  [
    {
      form: { lanes: 3, swimmers: 2, apart: 3 },
      lines: [
        { rest: 1, lanes: [2, 3] },
        { meet: 'gate', lanes: ALL },
        { meet: 'join', lanes: ALL },
        { rest: 1, lanes: [2, 3] },
        { reps: 1, every: 0, lanes: ALL, swim: { rep: 1, of: 1 } },
      ],
    },
    [
      { press: { kind: 'go', gate: 0, when: ':15' }, afterTicks: 200 },
      { press: { kind: 'shift', lane: 2, byMs: -8500 }, afterTicks: 67 },
    ],
  ],
];

test('[RUN1] a lane is where someone is who walks the practice step by step', () => {
  fc.assert(
    fc.property(randomPractice, randomPresses, (practice, presses) => {
      runBoth(practice, presses, (coach, walked) => {
        const places = coach.sheet.lanes.map((lane) =>
          placeAt(coach.sheet, coach.run.motions, lane, instant(walked.t)),
        );
        const walkedTo = coach.sheet.lanes.map(({ lane }) => walked.positionOf(lane));
        expect(
          places.map(({ position }) => position as number),
          `at ${walked.t - TOP}`,
        ).toEqual(walkedTo);
      });
    }),
    { numRuns: 300, examples: FOUND },
  );
});

test('[RUN3] everybody of the rep in hand left when the walker saw them leave', () => {
  fc.assert(
    fc.property(randomPractice, randomPresses, (practice, presses) => {
      runBoth(practice, presses, (coach, walked) => {
        for (const lane of coach.sheet.lanes) {
          const run = laneRunOf(coach.sheet, coach.run.motions, lane.lane);
          const { begun } = placeAt(coach.sheet, coach.run.motions, lane, instant(walked.t));
          if (!run || begun < 0) continue;
          const step = lane.steps[begun];
          sendOffsOf(run, begun).forEach((sendOff, place) => {
            const beyondGate = step?.kind === 'rep' && place * step.apartMs > step.durationMs;
            if (beyondGate || sendOff === null || sendOff > walked.t) return;
            expect(sendOff, `lane ${lane.lane} step ${begun} place ${place}`).toBe(
              walked.leftAt(lane.lane, begun, place),
            );
          });
        }
      });
    }),
    { numRuns: 200 },
  );
});
