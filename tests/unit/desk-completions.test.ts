import { describe, expect, test } from 'vitest';
import { completionsAt, isSendOff, withoutSendOff } from '../../client/desk/completions.ts';
import { sendOffOptions } from '../../server/planning/lanes/send-off-options.ts';
import { planPractice } from '../../server/planning/plan.ts';
import { STYLES } from '../../shared-types/practice.ts';
import { previewSchema } from '../../shared-types/wire/desk.ts';
import { best, pool25, swimmer } from '../fixtures/planning.ts';
import { runServer } from '../fixtures/running-server.ts';

const SEND_OFFS = [{ sendOffs: '1:10/1:15', restMs: 20_000 }];

const offered = (before: string, { above = 'Main', isAsked = true } = {}) =>
  completionsAt({ before, above, sendOffs: SEND_OFFS }, isAsked);

const labels = (before: string, more = {}): readonly string[] =>
  offered(before, more)?.options.map(({ label }) => label) ?? [];

describe('what is offered while a practice is written', () => {
  test.for([
    ['Main set: ', '', STYLES],
    ['Main set: po', '', STYLES],
    ['4 x 50 free with ', 'Main', ['cord', 'parachute', 'fins', 'paddles', 'buoy', 'snorkel', 'board', 'pulley']],
    [
      '4 x 50 free with fins + sn',
      'Main',
      ['cord', 'parachute', 'fins', 'paddles', 'buoy', 'snorkel', 'board', 'pulley'],
    ],
    ['4 x 50 free at ', 'Main', ['100 pace', '200 pace', '400 pace', 'threshold']],
    ['4 x 50 free at 200 ', 'Main', ['pace']],
    ['4 x 50 free from ', 'Main', ['a dive', 'the blocks']],
    ['4 x 50 free on ', 'Main', ['go', 'go by heat']],
    ['4 x 50 free @ ', 'Main', ['1:10/1:15']],
    ['4 x 50 free @ 1:1', 'Main', ['1:10/1:15']],
    ['', 'Main', ['wait', 'together']],
    ['  ', '3 rounds:', ['wait', 'together']],
  ] as const)('after “%s”', ([before, above, words]) => {
    expect(labels(before, { above })).toEqual(words);
  });

  test('is a stroke first, then what the line does not have yet', () => {
    expect(labels('4 x 50 ').slice(0, 7)).toEqual(['free', 'back', 'breast', 'fly', 'IM', 'choice', 'own']);
    expect(labels('4 x 50 free ')).toEqual([
      ...['kick', 'pull', 'drill', 'easy', 'smooth', 'build', 'max', 'best average', 'descend', 'at'],
      ...['from a dive', 'with', 'on go', 'rest'],
    ]);
    expect(labels('4 x 50 free kick easy from a dive with fins on go ')).toEqual([]);
  });

  test.for([
    '# Mon',
    '4 x 50 free -- with ',
    'A: ',
    'A, B: ',
    'lanes 1-3: ',
    'Some words about ',
    '4 x 50 free @ 1:10 ',
  ])('is nothing after “%s”', (before) => {
    expect(offered(before)).toBeNull();
  });

  test('comes by itself once a word is begun, and after the @ at once', () => {
    expect(labels('4 x 50 ', { isAsked: false })).toEqual([]);
    expect(labels('4 x 50 fr', { isAsked: false })).toContain('free');
    expect(labels('4 x 50 free @', { isAsked: false })).toEqual(['1:10/1:15']);
    expect(labels('4 x 50 free @ ', { isAsked: false })).toEqual(['1:10/1:15']);
  });
});

/** What a word needs after it to be whole. */
const REST: Readonly<Record<string, string>> = {
  at: ' 200 pace',
  with: ' fins',
  rest: ' :20',
  pulley: ' 12 kg',
};

const READ_BY: readonly string[] = [
  '4 x 50 ',
  '4 x 50 free ',
  '4 x 50 free kick ',
  '4 x 100 IM ',
  '200 ',
  '4 x 50 free with ',
  '4 x 50 free at ',
  '4 x 50 free at 200 ',
  '4 x 50 free from ',
  '4 x 50 free from a dive on ',
  '4 x 50 free @ ',
  '',
];

test.for(READ_BY)('everything that is offered after “%s” can be read', (before) => {
  const words = labels(before);
  expect(words.length).toBeGreaterThan(0);
  for (const word of words) {
    const line = `${before}${word}${REST[word] ?? ''}`;
    // What stands alone wants something after it.
    const text = `Main: race pace\n8 x 25 free @ :40\n${line}\n${before === '' ? '4 x 50 free @ 1:00\n' : ''}`;
    const { messages } = planPractice(text, { swimmers: [] }, pool25);
    expect(
      messages.filter(({ severity }) => severity === 'error'),
      line,
    ).toEqual([]);
  }
});

test.for(STYLES)('the style %s is read as it is offered', (style) => {
  const { sheet } = planPractice(`Main: ${style}\n4 x 50 free @ 1:00\n`, { swimmers: [] }, pool25);
  expect(sheet?.sets[0]?.style).toBe(style);
});

test('what a half-written send-off could be is asked of the practice without it', () => {
  const before = '# Mon\n\nMain\n4 x 50 free at 200 pace @ 1:1';
  expect(isSendOff('4 x 50 free at 200 pace @ 1:1')).toBe(true);
  expect(isSendOff('4 x 50 free -- not @ 1:1')).toBe(false);
  expect(isSendOff('4 x 50 free @ 1:10 at')).toBe(false);
  const text = withoutSendOff(`${before}0 with fins\n100 easy\n`, before.length);
  expect(text).toBe('# Mon\n\nMain\n4 x 50 free at 200 pace on go with fins\n100 easy\n');
});

describe('send-offs that a set could have', () => {
  const squad = {
    swimmers: [
      swimmer('Ada Vance', 1, 'A', [best('200 free', '2:00.00')]),
      swimmer('Bo Tarn', 2, 'B', [best('200 free', '2:20.00')]),
    ],
  };
  const optionsOf = (text: string, swimmers = squad.swimmers) => {
    const { sheet } = planPractice(text, { swimmers }, pool25);
    return sheet ? sendOffOptions(sheet) : [];
  };

  test('are the shortest multiples of :05 that leave each group so much rest, each said once', () => {
    // By hand: 50s at 200 pace are 30.0 and 35.0; with 5 s of rest :35 and :40, with 10 s :40 and :45, up to a minute.
    expect(optionsOf('Main\n4 x 50 free at 200 pace on go\n')).toEqual([
      { line: 2, sendOffs: ':35/:40', restMs: 5000 },
      { line: 2, sendOffs: ':40/:45', restMs: 10_000 },
      { line: 2, sendOffs: ':45/:50', restMs: 15_000 },
      { line: 2, sendOffs: ':50/:55', restMs: 20_000 },
      { line: 2, sendOffs: '1:00/1:05', restMs: 30_000 },
      { line: 2, sendOffs: '1:15/1:20', restMs: 45_000 },
      { line: 2, sendOffs: '1:30/1:35', restMs: 60_000 },
    ]);
  });

  test('are one for all where the groups need the same, and none where a group has no target', () => {
    expect(optionsOf('Main\nA:\n  4 x 50 free at 200 pace on go\n')[0]?.sendOffs).toBe(':35');
    const without = [...squad.swimmers, swimmer('Cy Reno', 3, 'C', [])];
    expect(optionsOf('Main\n4 x 50 free at 200 pace on go\n', without)).toEqual([]);
    expect(optionsOf('Main\n4 x 50 free max on go\n')).toEqual([]);
  });

  test('come with the preview, and can be written as they are', async () => {
    const server = await runServer();
    server.farwall.store.squad.replace(squad, false);
    const ask = async (text: string) =>
      previewSchema.parse((await server.ask('POST', '/api/preview', { body: { text } })).body);
    const { sendOffs } = await ask('Main\n4 x 50 free at 200 pace on go\n');
    const [option] = sendOffs;
    const { sheet } = await ask(`Main\n4 x 50 free @ ${option?.sendOffs} at 200 pace\n`);
    expect(sheet?.lanes.map(({ steps }) => steps[0]?.durationMs)).toEqual([35_000, 40_000]);
    expect((await ask('Main\n4 x 50 free @ 1;00\n')).sendOffs).toEqual([]);
  });
});
