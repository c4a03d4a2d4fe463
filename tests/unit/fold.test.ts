import { expect, test } from 'vitest';
import { instant, runIdSchema } from '../../shared-types/brand.ts';
import { runEventSchema } from '../../shared-types/events.ts';
import { foldEvent, foldEvents, newRun } from '../../shared-types/fold.ts';
import { Coach, TOP } from '../fixtures/coach.ts';
import { sheetOf } from '../fixtures/sheets.ts';

function swum(): Coach {
  const coach = new Coach(sheetOf({ lanes: 2 }, { reps: 4, every: 60 }));
  coach.press({ kind: 'start' }, 0);
  coach.press({ kind: 'shift', lane: 2, byMs: 5000 }, 20);
  coach.press({ kind: 'hold' }, 40);
  return coach;
}

const fresh = (coach: Coach) => newRun(coach.run.id, coach.run.sheet, coach.sheet, instant(TOP));

test('[RUN2] a new run stands at the start with every gate shut', () => {
  const { state, seq, motions, changedAt } = fresh(swum());
  expect({ state, seq, changedAt }).toEqual({ state: 'ready', seq: 0, changedAt: undefined });
  expect(motions.map(({ position, rate, gates }) => [position, rate, gates])).toEqual([
    [0, 0, 0],
    [0, 0, 0],
  ]);
});

test('[RUN2] folding a prefix and then the rest gives the same run', () => {
  const coach = swum();
  const whole = foldEvents(fresh(coach), coach.events);
  for (let cut = 0; cut <= coach.events.length; cut += 1) {
    const prefix = foldEvents(fresh(coach), coach.events.slice(0, cut));
    expect(foldEvents(prefix, coach.events.slice(cut))).toEqual(whole);
  }
  expect(whole).toEqual(coach.run);
});

test('[RUN2] the fold only applies what the event carries, as it comes back from JSON', () => {
  const coach = swum();
  const stored = coach.events.map((event) => runEventSchema.parse(JSON.parse(JSON.stringify(event))));
  expect(foldEvents(fresh(coach), stored)).toEqual(coach.run);
});

test('[RUN2] an event folded twice changes nothing', () => {
  const coach = swum();
  const last = coach.events.at(-1);
  expect(last && foldEvent(coach.run, last)).toBe(coach.run);
});

test('[RUN2] a gap, or an event of another run, is a bug and says so', () => {
  const coach = swum();
  const [first, second] = coach.events;
  if (!first || !second) throw new Error('two events');
  expect(() => foldEvent(fresh(coach), second)).toThrow(RangeError);
  const other = { ...first, run: runIdSchema.parse('f'.repeat(32)) };
  expect(() => foldEvent(fresh(coach), other)).toThrow(RangeError);
});
