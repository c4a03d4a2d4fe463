import { describe, expect, test } from 'vitest';
import { parsePractice } from '../../server/planning/shorthand/parse.ts';

const problemsOf = (text: string) => parsePractice(text).messages;

/** A line with one mistake: its column, and the words and the fix the message must hold. */
function expectRefusal(text: string, column: number, words: string, fix?: string): void {
  const { practice, messages } = parsePractice(text);
  expect(practice).toBeNull();
  expect(messages).toHaveLength(1);
  expect(messages[0]).toMatchObject({ severity: 'error', code: 'unreadable', line: 1, column });
  expect(messages[0]?.text).toContain(words);
  expect(messages[0]?.fix).toBe(fix);
}

describe('times that can be read two ways, or not at all', () => {
  test.each([
    ['8 x 50 @ 90', 10, '"90" is not a time; write 1:30 or 90s', '1:30'],
    ['8 x 50 @ 45', 10, '"45" is not a time; write :45 or 45s', ':45'],
    ['8 x 50 @ 2', 10, 'write 2:00 for minutes or :02 for seconds', undefined],
    ['8 x 50 @ 130', 10, 'write 1:30, or 130s for 2:10', undefined],
    ['8 x 50 @ 1.30', 10, '"1.30" is not a time; write 1:30', '1:30'],
    ['8 x 50 @ 1;30', 10, '"1;30" is not a time; write 1:30', '1:30'],
    [`8 x 50 @ 1'30"`, 10, 'write 1:30', '1:30'],
    ['8 x 50 @ 1:75', 10, 'seconds go up to 59; write 2:15', '2:15'],
    ['8 x 50 @ :90', 10, 'seconds go up to 59; write 1:30', '1:30'],
    ['8 x 50 @ 1:5', 10, 'two digits', undefined],
    ['8 x 50 @ 1:05:00', 10, 'write the hours as minutes: 65:00', '65:00'],
    ['8 x 50 @ 1:00.555', 10, 'two digits after the point', undefined],
    ['8 x 50 @ 1:20/90', 15, 'write 1:30 or 90s', '1:30'],
    ['8 x 50 @ :00', 10, 'longer than 0', undefined],
    ['8 x 50 rest 20', 13, 'write :20 or 20s', ':20'],
    ['8 x 50 @ 1:30 dropping 5', 24, ':05 for seconds', undefined],
    ['8 x 50 hold 1.30', 13, '"1.30" is not a time; write 1:30', '1:30'],
    ['8 x 50 hold 0', 13, 'too short', undefined],
    ['rest 2', 6, '2:00 for minutes', undefined],
    ['8 x 50 1:30', 8, '"1:30" stands alone; write @ 1:30 for a send-off or rest 1:30 for a rest', '@ 1:30'],
    ['8 x 50 1;30', 8, 'write @ 1:30', '@ 1:30'],
  ])('%s', (text, column, words, fix) => expectRefusal(text, column, words, fix));
});

describe('@ is for send-offs', () => {
  test.each([
    ['8 x 50 @ 200 pace', 8, 'at 200 pace'],
    ['8 x 50 @ 90% of own 200  pace', 8, 'at 90% of own 200 pace'],
    ['8 x 50 @ max', 8, 'max'],
  ])('%s', (text, column, fix) => expectRefusal(text, column, `@ is for send-offs; write ${fix}`, fix));
});

describe('words and signs that are not known', () => {
  test.each([
    ['8 x 50 esay', 8, 'did you mean easy?', 'easy'],
    ['8 x 50 fere @ 1:00', 8, 'did you mean free?', 'free'],
    ['8 x 50 with padles', 13, 'did you mean paddles?', 'paddles'],
    ['8 x 50 @ 1:00 decsend', 15, 'did you mean descend?', 'descend'],
    ['8 x 50 qqqqq', 8, '"qqqqq" is not a known word; write a note after --', undefined],
    ['8 x 50 breathe every five strokes', 8, 'write a note after --', undefined],
    ['8 x 50 free!', 12, '"!" is not a known sign', undefined],
    ['50m free', 3, 'write the distance without a unit', undefined],
    ['8 x 50 @ 45 sec', 13, 'write seconds like :45 or 45s', undefined],
  ])('%s', (text, column, words, fix) => {
    const [first] = problemsOf(text).filter((message) => message.column === column);
    expect(first).toMatchObject({ severity: 'error', code: 'unreadable', line: 1 });
    expect(first?.text).toContain(words);
    expect(first?.fix).toBe(fix);
  });
});

describe('sets with something missing, doubled or out of reach', () => {
  test.each([
    ['0 x 50', 1, '0 reps', undefined],
    ['8 x 0', 5, 'distance of 0', undefined],
    ['12.5 free', 1, 'whole distance', undefined],
    ['2.5 x 50', 1, 'whole number of reps', undefined],
    ['8 x', 3, 'write the distance after the x', undefined],
    ['8 50 free', 1, 'write 8 x 50', '8 x 50'],
    ['10/9 50', 6, 'write x and the distance after the counts', undefined],
    ['8 x 50 at', 8, 'something is missing after "at"', undefined],
    ['8 x 50 at 200', 11, 'at 200 pace', undefined],
    ['8 x 50 at 250% of 200 pace', 11, 'write 1% to 200%', undefined],
    ['8 x 50 at 0% of 200 pace', 11, 'write 1% to 200%', undefined],
    ['8 x 50 at own 200 fly pace', 19, 'leave out own or fly', undefined],
    ['8 x 50 descend 2-4', 16, 'write descend 1-4', 'descend 1-4'],
    ['8 x 50 free order', 13, 'write IM order', 'IM order'],
    ['8 x 50 odds max', 13, 'odds max evens easy', undefined],
    ['8 x 50 from 85% to 100% of 200 pace', 32, 'by rep', undefined],
    ['8 x 50 with', 8, 'equipment is cord', undefined],
    ['8 x 50 with pulley 12', 20, 'with pulley 12 kg', undefined],
    ['8 x 50 dropping :05', 8, 'this line has none', undefined],
    ['8 x 50 threshold +90', 19, 'threshold +3', undefined],
    ['8 x 50 (25 max, 25 easy', 8, 'never closed', undefined],
    ['8 x 50)', 7, 'no bracket is open', undefined],
    ['8 x 50 (walls, 50)', 9, 'not a known word', undefined],
    ['8 x 50 (25 dive, 25)', 12, 'parts look like', undefined],
    ['8 x 50 (25 from a dive, 25)', 12, 'cannot start from a dive', undefined],
    ['1,500 free', 1, 'write 1500', '1500'],
    ['8 x 50 @ 1,30', 10, 'write 1:30', '1:30'],
    ['8 x 50 hold 31,5 per 50', 13, 'write 31.5', '31.5'],
    ['8 x :30 (10 max, 20 easy)', 9, 'no parts', undefined],
    ['8 x 50 finish', 8, 'finish together', undefined],
    ['8 x 50 @ 1:00:', 14, 'colon', undefined],
    ['free 8 x 50', 1, 'cannot be read as a set', undefined],
    ['go @ 1:00', 1, 'cannot be read as a set', undefined],
    ['x 50', 1, 'cannot be read as a set', undefined],
    ['(walls)', 1, 'a note with --', undefined],
    ['rest', 1, 'something is missing after "rest"', undefined],
    ['wait 2:00', 6, 'stands alone on its line', undefined],
  ])('%s', (text, column, words, fix) => expectRefusal(text, column, words, fix));

  test.each([
    ['8 x 50 @ 1:00 on 1:10', 15, 'two send-offs in one line, "@ 1:00" and "on 1:10"; keep one'],
    ['8 x 50 @ 1:00 rest :10', 15, 'two send-offs'],
    ['8 x 50 free fly', 13, 'two strokes'],
    ['8 x 50 max easy', 12, 'two efforts'],
    ['8 x 50 kick pull', 13, 'two activities'],
    ['8 x 50 (25 max easy, 25)', 16, 'two efforts'],
    ['8 x 50 with fins with board', 18, 'two lists of equipment'],
  ])('%s', (text, column, words) => expectRefusal(text, column, words));

  test('parts that do not add up', () => {
    expect(problemsOf('8 x 100 (50 fly at 200 pace, 25 easy)')).toEqual([
      { severity: 'error', code: 'parts-sum', line: 1, column: 9, text: 'the parts add up to 75, the rep is 100' },
    ]);
  });
});

describe('blocks', () => {
  test.each([
    ['3 rounds', 1, 'write 3 rounds:', '3 rounds:'],
    ['A', 1, 'write A:', 'A:'],
    ['A: 50 easy', 4, 'on the lines below it', undefined],
    ['lane 1', 6, 'colon', undefined],
    ['Group 1:', 1, 'groups go by letters', undefined],
    ['3 rounds easy:', 10, 'take it out', undefined],
    ['2 x (2 x (2 x (50)))', 11, 'no deeper', undefined],
  ])('%s', (text, column, words, fix) => expectRefusal(text, column, words, fix));

  test.each([
    ['lanes 3-1:\n  50', 7, 'unreadable', 'write lanes 1-3:'],
    ['lanes 0-2:\n  50', 7, 'unreadable', 'lanes go from 1 to 12'],
    ['lane 13:\n  50', 6, 'too-much', 'lanes go from 1 to 12'],
    ['lanes 1, 3:\n  50', 8, 'unreadable', 'lanes 1-2:'],
    ['1,000 rounds:\n  50', 1, 'unreadable', 'write 1000'],
    ['4000 rounds:\n  50', 1, 'too-much', '4,000 rounds'],
    ['2/3 rounds:\n  50', 3, 'unreadable', 'the same number for everybody'],
    ['2 rounds together together:\n  50', 19, 'unreadable', 'twice'],
  ])('%j', (text, column, code, words) => {
    const messages = problemsOf(text);
    expect(messages).toMatchObject([{ line: 1, column, code }]);
    expect(messages[0]?.text).toContain(words);
  });

  test('nothing under a head', () => {
    expect(problemsOf('4 rounds:\n\nMain\n50')).toMatchObject([
      {
        severity: 'error',
        code: 'indent',
        line: 1,
        column: 1,
        text: expect.stringContaining('nothing is indented under "4 rounds:"'),
      },
    ]);
    expect(problemsOf('50\nB, C:')).toMatchObject([{ code: 'indent', line: 2, column: 1 }]);
  });

  test('lines that line up with nothing', () => {
    expect(problemsOf('50\n  100')).toMatchObject([{ severity: 'error', code: 'indent', line: 2, column: 3 }]);
    expect(problemsOf('2 rounds:\n    50\n  100\n200')).toMatchObject([{ code: 'indent', line: 3, column: 3 }]);
  });

  test('a third level of rounds', () => {
    expect(problemsOf('2 rounds:\n 2 rounds:\n  2 rounds:\n   50')).toMatchObject([
      { code: 'unreadable', line: 3, column: 3 },
    ]);
    expect(problemsOf('2 rounds:\n 2 rounds:\n  2 x (50)')).toMatchObject([{ code: 'unreadable', line: 3, column: 3 }]);
  });

  test('a group inside a group', () => {
    expect(problemsOf('A:\n  B:\n    50')).toMatchObject([{ code: 'unreadable', line: 2, column: 3 }]);
  });
});

describe('too much', () => {
  test.each([
    ['4000 x 50', 1, 1, '4,000 reps; at most 1,000 reps a lane'],
    [`${'9'.repeat(400)} x 50`, 1, 1, 'far too many reps'],
    [`8 x ${'9'.repeat(400)}`, 1, 5, 'too far'],
    [`8 x 50 @ ${'1:00/'.repeat(12)}1:00`, 1, 70, '13 pace groups; at most 12'],
    ['50\n'.repeat(401), 401, 1, 'at most 400'],
    [`50\n50 -- ${'a'.repeat(500)}`, 2, 501, 'longer than 500 characters'],
    [`-- ${'é'.repeat(40_000)}`, 1, 1, 'longer than 64 KB'],
  ])('text %#', (text, line, column, words) => {
    const { practice, messages } = parsePractice(text);
    expect(practice).toBeNull();
    expect(messages).toMatchObject([{ severity: 'error', code: 'too-much', line, column }]);
    expect(messages[0]?.text).toContain(words);
  });

  test('exactly as much as is allowed is read', () => {
    expect(parsePractice('50\n'.repeat(400)).practice?.sections[0]?.items).toHaveLength(400);
    expect(parsePractice(`8 x 50 @ ${'1:00/'.repeat(11)}1:00`).messages).toEqual([]);
    expect(parsePractice(`1000 x 50 -- ${'a'.repeat(487)}`).messages).toEqual([]);
  });
});

describe('the title', () => {
  test('stands on the first line only', () => {
    expect(problemsOf('# One\n# Two')).toMatchObject([{ code: 'unreadable', line: 2, column: 1, fix: 'Two' }]);
  });
});

test('everything wrong in a text is said at once, by line and column', () => {
  const text = [
    '# T',
    '8 x 50 esay @ 90 free fly',
    '4 rounds:',
    '',
    'Main: fun',
    '  8 x 50 @ 1;30',
    '100 (50, 25)',
    'x 50',
    '3 ruonds:',
    '  50',
  ];
  expect(problemsOf(text.join('\n')).map(({ line, column, code }) => [line, column, code])).toEqual([
    [2, 8, 'unreadable'],
    [2, 15, 'unreadable'],
    [2, 23, 'unreadable'],
    [3, 1, 'indent'],
    [5, 7, 'unknown-style'],
    [6, 12, 'unreadable'],
    [7, 5, 'parts-sum'],
    [8, 1, 'unreadable'],
    [9, 3, 'unreadable'],
  ]);
});
