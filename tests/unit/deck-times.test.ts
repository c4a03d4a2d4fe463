import { describe, expect, test } from 'vitest';
import { mayRecall, offerFor, undoOffer } from '../../client/deck/actions.ts';
import { takenTimes } from '../../client/deck/taken-times.ts';
import { differenceWords, keptWords, timeWords } from '../../client/deck/words.ts';
import { RunDepartures } from '../../server/running/departure-log.ts';
import { boardAt } from '../../shared-types/board/board.ts';
import { commandIdSchema, deviceIdSchema, instant, ms, runIdSchema } from '../../shared-types/brand.ts';
import { foldMarks, type MarkCommand, NO_MARKS } from '../../shared-types/marks.ts';
import { type Coach, started, TOP } from '../fixtures/coach.ts';
import { sheetOf, swimmerId } from '../fixtures/sheets.ts';

const at = (seconds: number) => instant(TOP + seconds * 1000);
const hex = (n: number): string => n.toString(16).padStart(32, '0');

const offerAt = ({ sheet, run }: Coach, seconds: number) => {
  const board = boardAt(sheet, run, at(seconds), { labels: {}, face: { timezone: 'UTC', trimMs: 0 } });
  return offerFor(board, sheet);
};

const released = sheetOf(
  { lanes: 1, swimmers: 3, apart: 10 },
  { reps: 1, every: 0 },
  { meet: 'gate' },
  { reps: 2, every: 60, swim: { set: 0 } },
);

describe('what the deck offers', () => {
  test('while swimmers of a released rep have yet to leave: hold and next, but not go', () => {
    const coach = started(released);
    expect(offerAt(coach, 20)).toMatchObject({ main: [{ press: 'next' }], hold: true });
    expect(offerAt(coach, 26)).toMatchObject({ main: [{ press: 'go' }], hold: false });
  });

  test('[CMD6] to undo the newest press for a minute, after finish too, and a start until somebody has left', () => {
    const coach = started(released);
    expect(undoOffer(coach.run, at(2), false)).toBe('start, 2\u00a0s\u00a0ago');
    expect(undoOffer(coach.run, at(6), true)).toBe('');
    coach.press({ kind: 'shift', lane: 1, byMs: 5000 }, 2);
    expect(undoOffer(coach.run, at(14), true)).toBe('shift, 12\u00a0s\u00a0ago');
    coach.press({ kind: 'finish' }, 30);
    expect(undoOffer(coach.run, at(90), true)).toBe('finish, 60\u00a0s\u00a0ago');
    expect(undoOffer(coach.run, at(90.1), true)).toBe('');
    coach.press({ kind: 'undo' }, 60);
    expect(undoOffer(coach.run, at(61), true)).toBe('');
  });

  test('[CMD2] to recall a go for a minute, through holds and shifts, not after anything else', () => {
    const coach = started(released);
    expect(mayRecall(coach.run, at(20))).toBe(false);
    coach.press({ kind: 'go', gate: 0, when: 'now' }, 30);
    coach.press({ kind: 'hold' }, 32);
    expect(mayRecall(coach.run, at(90))).toBe(true);
    expect(mayRecall(coach.run, at(90.1))).toBe(false);
    coach.press({ kind: 'recall' }, 40);
    expect(mayRecall(coach.run, at(41))).toBe(false);
  });
});

describe('[CMD8] times on the deck, before the server has answered', () => {
  const RUN = runIdSchema.parse(hex(1));
  const base = { device: deviceIdSchema.parse(hex(2)), run: RUN };
  const id = commandIdSchema.parse(hex(3));
  const sheet = sheetOf({ lanes: 1, swimmers: 1 }, { reps: 2, every: 60 });
  const [rep] = sheet.lanes[0]?.steps ?? [];
  const mark: MarkCommand = {
    ...base,
    kind: 'mark',
    id,
    swimmer: swimmerId(1, 1),
    step: rep?.id ?? '',
    pass: 1,
    distance: 50,
    pressedAt: at(35.2),
  };
  const coach = started(sheet);
  const log = new RunDepartures(sheet, instant(TOP));
  for (const event of coach.events) log.happened(event, sheet);
  const departures = log.upTo(at(40));

  test('[CMD8] a mark that waits counts from the send-off this page knows', () => {
    expect(takenTimes(NO_MARKS, [mark], RUN, departures)).toMatchObject([{ id, lane: 1, ms: 30_200, state: 'counts' }]);
    const elsewhere = runIdSchema.parse(hex(9));
    expect(takenTimes(NO_MARKS, [mark], elsewhere, departures)).toEqual([]);
  });

  test('[CMD8] what the server has told already is not there twice, and a void that waits is void', () => {
    const place = { swimmer: mark.swimmer, step: mark.step, pass: 1, distance: 50, lane: null, leftAt: at(5) };
    const { device, run, pressedAt } = mark;
    const event = { run, seq: 1, command: id, device, mark: id, decidedAt: pressedAt, pressedAt, place };
    const book = foldMarks(NO_MARKS, [{ ...event, kind: 'mark' as const }]);
    expect(takenTimes(book, [mark], RUN, departures)).toHaveLength(1);
    const undo: MarkCommand = { ...base, kind: 'void', id: commandIdSchema.parse(hex(4)), mark: id };
    expect(takenTimes(NO_MARKS, [mark, undo], RUN, departures)).toMatchObject([{ state: 'void' }]);
  });

  test('a time is said to the tenth, with what it was slower or faster as both are shown', () => {
    expect(timeWords({ ms: ms(29_640), state: 'counts' })).toBe('29.6');
    expect(timeWords({ ms: ms(29_640), state: 'second' })).toBe('29.6 (second)');
    expect(timeWords({ ms: null, state: 'unplaced' })).toBe('fits no send-off');
    expect(differenceWords({ ms: ms(29_849) }, ms(29_600))).toBe('+0.2');
    expect(differenceWords({ ms: ms(29_849) }, ms(29_850))).toBe('−0.1');
    expect(differenceWords({ ms: ms(29_849) }, ms(29_800))).toBe('±0.0');
    expect(differenceWords({ ms: ms(99_000) }, ms(30_000))).toBe('+1:09.0');
    expect(differenceWords({ ms: ms(29_849) }, null)).toBe('');
  });

  test('[CMD8] without the server the deck says how many times it keeps', () => {
    expect(keptWords('alone', 0)).toBe('');
    expect(keptWords('alone', 1)).toBe('1 time taken is kept');
    expect(keptWords('connecting', 2)).toBe('2 times taken are kept');
    expect(keptWords('live', 2)).toBe('');
  });
});
