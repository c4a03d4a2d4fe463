import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type BoardScreen, boardAt } from '../../shared-types/board/board.ts';
import { instant } from '../../shared-types/brand.ts';
import { type RunEvent, runEventSchema } from '../../shared-types/events.ts';
import { foldEvents, newRun } from '../../shared-types/fold.ts';
import { nextGateOf, placeAt } from '../../shared-types/motion.ts';
import { Coach, type Press, TOP } from '../fixtures/coach.ts';
import {
  anyPresses,
  type RandomPractice,
  randomPractice,
  randomPress,
  randomPresses,
} from '../fixtures/random-sheets.ts';
import { writeSheet } from '../fixtures/sheets.ts';

interface Pressed {
  readonly press: Press;
  readonly afterTicks: number;
}

/** Starts the practice and presses everything, one after the other; `see` after each press. */
function run(
  { form, lines }: RandomPractice,
  presses: readonly Pressed[],
  see: (coach: Coach, seconds: number) => void,
): Coach {
  const coach = new Coach(writeSheet(form, lines).sheet);
  coach.press({ kind: 'start' }, 0);
  let seconds = 0;
  for (const { press, afterTicks } of presses) {
    seconds += afterTicks / 4;
    coach.press(press, seconds);
    see(coach, seconds);
  }
  return coach;
}

const screen: BoardScreen = { labels: {}, face: { timezone: 'UTC', trimMs: 300 } };

const practised = fc.tuple(randomPractice, anyPresses);

describe('[RUN2] events', () => {
  test('[RUN2] folding a prefix and then the rest, as they come from JSON, gives the same run', () => {
    fc.assert(
      fc.property(practised, fc.nat(), ([practice, presses], at) => {
        const coach = run(practice, presses, () => {});
        const stored = coach.events.map((event) => runEventSchema.parse(JSON.parse(JSON.stringify(event))));
        const cut = at % (stored.length + 1);
        const fresh = newRun(coach.run.id, coach.run.sheet, coach.sheet, instant(TOP));
        expect(foldEvents(foldEvents(fresh, stored.slice(0, cut)), stored.slice(cut))).toEqual(coach.run);
      }),
    );
  });

  test('[RUN2] events are numbered without a gap and never take effect before the one before', () => {
    fc.assert(
      fc.property(practised, ([practice, presses]) => {
        const { events } = run(practice, presses, () => {});
        expect(events.map(({ seq }) => seq)).toEqual(events.map((_, place) => place + 1));
        expect(events.map(({ at }) => at)).toEqual(events.map(({ at }) => at).sort((a, b) => a - b));
      }),
    );
  });

  test('[RUN2] every number of an event is whole', () => {
    fc.assert(
      fc.property(practised, ([practice, presses]) => {
        for (const { motions } of run(practice, presses, () => {}).events) {
          const numbers = motions.flatMap(({ position, at, leftAt = at }) => [position, at, leftAt]);
          expect(numbers.filter((number) => !Number.isInteger(number))).toEqual([]);
        }
      }),
    );
  });

  test('an event for 10 lanes of 8 is at most 2 KB', () => {
    const practice: RandomPractice = {
      form: { lanes: 10, swimmers: 8, apart: 5 },
      lines: [{ reps: 60, every: 100 }, { meet: 'join' }, { reps: 1, every: 0 }, { meet: 'gate' }],
    };
    const size = (event: RunEvent): number => new TextEncoder().encode(JSON.stringify(event)).length;
    fc.assert(
      fc.property(randomPresses, (presses) => {
        const { events } = run(practice, presses, () => {});
        expect(Math.max(...events.map(size))).toBeLessThanOrEqual(2048);
      }),
    );
  });
});

describe('[RUN1] what always holds', () => {
  test('[RUN1] all lanes of a gate are on the same side of it', () => {
    fc.assert(
      fc.property(practised, ([practice, presses]) => {
        run(practice, presses, ({ sheet, run: { motions } }) => {
          const isOpen = (gate: number, lane: number): boolean =>
            motions.some((motion) => motion.lane === lane && (nextGateOf(sheet, motion) ?? Infinity) > gate);
          sheet.joins.forEach(({ gate, lanes }, index) => {
            if (gate) expect(new Set(lanes.map((lane) => isOpen(index, lane))).size).toBe(1);
          });
        });
      }),
    );
  });

  test('[CMD4] deciding leaves every place at the instant of effect where it was, but for lanes it moves', () => {
    fc.assert(
      fc.property(practised, ([practice, presses]) => {
        const coach = new Coach(writeSheet(practice.form, practice.lines).sheet);
        coach.press({ kind: 'start' }, 0);
        let seconds = 0;
        for (const { press, afterTicks } of presses) {
          seconds += afterTicks / 4;
          const before = coach.sheet.lanes.map(({ lane }) => coach.place(lane, seconds).position);
          const decided = coach.press(press, seconds);
          const keeps = press.kind === 'hold' || press.kind === 'resume' || press.kind === 'shift';
          if (!decided.ok || !keeps || (press.kind === 'shift' && press.byMs < 0)) continue;
          expect(coach.sheet.lanes.map(({ lane }) => coach.place(lane, seconds).position)).toEqual(before);
        }
      }),
    );
  });

  test('[CMD2] next, and go where lanes wait, bring every lane to its end', () => {
    fc.assert(
      fc.property(practised, ([practice, presses]) => {
        const coach = run(practice, presses, () => {});
        let seconds = 100_000;
        if (coach.run.state === 'finished') return;
        if (coach.run.state === 'ready') coach.press({ kind: 'start' }, seconds);
        coach.press({ kind: 'resume' }, seconds);
        const steps = coach.sheet.lanes.flatMap((lane) => lane.steps).length;
        const allDone = (): boolean =>
          coach.sheet.lanes.every(({ lane }) => coach.place(lane, seconds).state === 'done');
        // Somebody may have yet to leave just when a press comes: then it is the next one that does it.
        for (let presses = 0; presses <= 2 * steps && !allDone(); presses += 1) {
          seconds += 120;
          if (allDone()) break;
          const [gate] = boardAt(coach.sheet, coach.run, instant(TOP + seconds * 1000), screen).waitingGates;
          // A gate that other lanes have yet to come to is opened once next has brought them there.
          const went = gate !== undefined && coach.press({ kind: 'go', gate, when: 'now' }, seconds).ok;
          if (!went) coach.press({ kind: 'next', when: 'now' }, seconds);
        }
        expect(allDone()).toBe(true);
      }),
    );
  });
});

describe('[CMD1] [CMD3] commands', () => {
  test('[CMD1] a command sent twice acts once and gets the same answer', () => {
    fc.assert(
      fc.property(practised, randomPress, ([practice, presses], press) => {
        const coach = run(practice, presses, () => {});
        const first = coach.press(press, 9000, { id: 5 });
        const after = coach.run;
        expect(coach.press(press, 9000, { id: 5 })).toEqual(first);
        expect(coach.run).toBe(after);
      }),
    );
  });

  test('[CMD3] of two decks that press the same together at most one acts', () => {
    fc.assert(
      fc.property(practised, randomPress, ([practice, presses], press) => {
        const coach = run(practice, presses, () => {});
        const basedOnSeq = coach.run.seq;
        const first = coach.press(press, 9000, { device: 1, basedOnSeq });
        const second = coach.press(press, 9000, { device: 2, basedOnSeq });
        if (!first.ok || press.kind === 'shift') return;
        expect(second).toMatchObject({ ok: false, code: 'overtaken' });
      }),
    );
  });

  test('[CMD3] shifts of two decks commute', () => {
    const shift = fc.record({ lane: fc.integer({ min: 1, max: 4 }), byMs: fc.integer({ min: 1, max: 20_000 }) });
    fc.assert(
      fc.property(practised, shift, shift, ([practice, presses], one, other) => {
        const placesAfter = (order: readonly (typeof one)[]): unknown => {
          const coach = run(practice, presses, () => {});
          const basedOnSeq = coach.run.seq;
          const answers = order.map((by, device) =>
            coach.press({ kind: 'shift', ...by }, 1000, { device: device + 1, basedOnSeq }),
          );
          if (answers.some(({ ok }) => !ok)) return null;
          return coach.sheet.lanes.map(({ lane }) => [1001, 1030, 1400].map((at) => coach.place(lane, at).position));
        };
        expect(placesAfter([other, one])).toEqual(placesAfter([one, other]));
      }),
    );
  });
});

describe('the board', () => {
  test('[RUN1] it never throws, its next send-off is ahead, and who is said to have left has', () => {
    fc.assert(
      fc.property(practised, fc.integer({ min: -3, max: 300 }), ([practice, presses], later) => {
        run(practice, presses, (coach, seconds) => {
          const t = instant(TOP + (seconds + later) * 1000);
          const { lanes, waitingGates } = boardAt(coach.sheet, coach.run, t, screen);
          for (const { nextAt, countdownMs, markers, turn, rep } of lanes) {
            expect(nextAt === null || nextAt > t).toBe(true);
            expect(countdownMs === null || countdownMs >= 0).toBe(true);
            expect(turn?.leavesAt == null || turn.leavesAt > t).toBe(true);
            expect(turn === null || rep !== null).toBe(true);
            expect(markers.every(({ along }) => along >= 0 && along <= 1)).toBe(true);
          }
          expect(waitingGates.every((gate) => coach.sheet.joins[gate]?.gate)).toBe(true);
        });
      }),
    );
  });

  test('[RUN1] a send-off it shows is the instant at which the lane leaves, if nothing is pressed', () => {
    fc.assert(
      fc.property(practised, ([practice, presses]) => {
        run(practice, presses, ({ sheet, run: now }, seconds) => {
          const board = boardAt(sheet, now, instant(TOP + seconds * 1000), screen);
          for (const { lane, nextAt } of board.lanes) {
            const steps = sheet.lanes.find((each) => each.lane === lane);
            if (nextAt === null || !steps) continue;
            const [just, then] = [nextAt - 1, nextAt].map((at) => placeAt(sheet, now.motions, steps, instant(at)));
            expect(then?.begun).toBeGreaterThan(just?.begun ?? -1);
          }
        });
      }),
    );
  });
});
