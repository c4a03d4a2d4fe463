import { expect, test } from 'vitest';
import { randomId } from '../../server/ids.ts';
import { unmarked } from '../../server/running/unmarked.ts';
import { commandIdSchema, swimmerIdSchema } from '../../shared-types/brand.ts';
import { foldMarks, type MarkEvent, markEventSchema, marksOf, NO_MARKS } from '../../shared-types/marks.ts';

const [ADA, BO, NOBODY] = ['a', 'b', '0'].map((digit) => swimmerIdSchema.parse(digit.repeat(32)));
const [FIRST, SECOND, THIRD] = [randomId(), randomId(), randomId()];
const RUN = randomId();
const LEFT = 1_800_000_000_000;

/** Mark events as short as they can be said, numbered from 1. */
const events = (...said: readonly Record<string, unknown>[]): MarkEvent[] =>
  said.map((event, place) =>
    markEventSchema.parse({
      run: RUN,
      seq: place + 1,
      command: randomId(),
      device: 'd'.repeat(32),
      decidedAt: LEFT + 31_300,
      ...('swimmer' in event
        ? { place: { swimmer: event.swimmer, step: '2.0.0.1', pass: 1, distance: 50, lane: 1, leftAt: LEFT } }
        : {}),
      ...event,
    }),
  );

const mark = (id: string, swimmer: unknown, more = {}) => ({
  kind: 'mark',
  mark: id,
  swimmer,
  pressedAt: LEFT + 31_250,
  ...more,
});

/** The same events with those in their place that are others. */
const withoutAda = (all: readonly MarkEvent[]): MarkEvent[] => {
  if (!ADA || !NOBODY) throw new Error('three were made');
  const others = new Map(unmarked(all, ADA, NOBODY).map((event) => [event.seq, event]));
  return all.map((event) => others.get(event.seq) ?? event);
};

test('marks of somebody say of nobody that they came, and not when', () => {
  const after = withoutAda(events(mark(FIRST, ADA, { typed: true }), mark(SECOND, BO)));
  const [theirs, others] = marksOf(foldMarks(NO_MARKS, after));
  expect(theirs).toMatchObject({ swimmer: NOBODY, ms: null, leftAt: null, pressedAt: 0, state: 'missed' });
  expect(others).toMatchObject({ swimmer: BO, ms: 31_250, state: 'counts' });
  expect(JSON.stringify(after)).not.toContain(String(ADA));
});

test('a press that was given to another stays theirs, and one that became somebody’s is nobody’s', () => {
  const given = { kind: 'assign', mark: FIRST, swimmer: BO };
  const gotten = { kind: 'assign', mark: SECOND, swimmer: ADA };
  const all = events(mark(FIRST, ADA), mark(SECOND, BO), given, gotten, { kind: 'void', mark: SECOND });
  const after = withoutAda(all);
  const marks = marksOf(foldMarks(NO_MARKS, after));
  expect(marks.map(({ swimmer, ms }) => [swimmer, ms])).toEqual([
    [BO, 31_250],
    [NOBODY, null],
  ]);
  expect(JSON.stringify(after)).not.toContain(String(ADA));
  // When somebody touched is nowhere to be read of what was theirs in the end.
  const ofSecond = after.filter((event) => event.mark === commandIdSchema.parse(SECOND));
  expect(JSON.stringify(ofSecond)).not.toContain('31250');
});

test('repairs of before can still be taken back, without a word of who is gone', () => {
  const restored = { kind: 'restore', mark: THIRD, swimmer: ADA, isVoid: false };
  const all = events(mark(THIRD, ADA), { kind: 'assign', mark: THIRD, swimmer: BO }, restored);
  const after = withoutAda(all);
  expect(marksOf(foldMarks(NO_MARKS, after))[0]).toMatchObject({ swimmer: NOBODY, ms: null });
  expect(JSON.stringify(after)).not.toContain(String(ADA));
});

test('of marks in which they never were nothing is another', () => {
  if (!ADA || !NOBODY) throw new Error('three were made');
  expect(unmarked(events(mark(FIRST, BO), { kind: 'void', mark: FIRST }), ADA, NOBODY)).toEqual([]);
});
