import { describe, expect, test } from 'vitest';
import { seasonChart, seasonGist, seasonReading } from '../../client/desk/season-chart.ts';
import { type SeasonOf, seasonRows, swimmersOf } from '../../client/desk/season-figures.ts';
import { createSeason } from '../../client/desk/season-model.ts';
import {
  changeText,
  heldWords,
  kindsLike,
  kindWords,
  oftenWords,
  rowSendOffs,
  timedWords,
} from '../../client/desk/season-words.ts';
import { instant } from '../../shared-types/brand.ts';
import type { Occurrence, SetHistoryAnswer, SetKind } from '../../shared-types/wire/history.ts';
import { ADA, BELA, historyOf, LOOSE, ON_SEVENTY, swumOn, swumOnce } from '../fixtures/set-history.ts';

const FACE = { timezone: 'Europe/Lisbon', trimMs: 0 };

const changes = (occurrences: readonly Occurrence[], of: SeasonOf) =>
  seasonRows(occurrences, of).map(({ change }) => change && [change.ms, change.likeness, change.swimmers]);

describe('a set over the season', () => {
  test('has the mean of those who swam it, the best of all, and what was timed and held', () => {
    const [row] = seasonRows(
      [swumOn(0, [swumOnce(ADA, 30), swumOnce(BELA, 33, { timed: 7, hits: 3, judged: 7 })])],
      'squad',
    );
    expect([row?.meanMs, row?.best]).toEqual([31_500, { ms: 29_500, swimmer: ADA }]);
    expect(row && [timedWords(row.swum), heldWords(row), changeText(row)]).toEqual(['15 of 16', '9 of 15', null]);
  });

  test('says of how many reps the paced part alone was timed', () => {
    const swum = [
      { timed: 0, reps: 8, judged: 1 },
      { timed: 8, reps: 8, judged: 8 },
      { timed: 8, reps: 8, judged: 0 },
    ];
    expect(swum.map((own) => timedWords([own]))).toEqual(['0 of 8, 1 in part', '8 of 8', '8 of 8']);
    expect(timedWords(swum)).toBe('16 of 24, 1 in part');
  });

  test('changes as the same swimmers change, whoever else is there', () => {
    // Bela, who is slower, is there the second time only: the mean rises, while Ada has become faster.
    const occurrences = [swumOn(0, [swumOnce(ADA, 30)]), swumOn(1, [swumOnce(ADA, 29.6), swumOnce(BELA, 33)])];
    expect(seasonRows(occurrences, 'squad').map(({ meanMs }) => meanMs)).toEqual([30_000, 31_300]);
    expect(changes(occurrences, 'squad')).toEqual([null, [expect.closeTo(-400, 6), 'strict', 1]]);
  });

  test('is held against what was strictly the same before what was loosely the same', () => {
    const occurrences = [
      swumOn(0, [swumOnce(ADA, 30)]),
      swumOn(1, [swumOnce(ADA, 29, { strict: ON_SEVENTY })]),
      swumOn(2, [swumOnce(ADA, 29.8)]),
    ];
    expect(changes(occurrences, ADA)).toEqual([null, [-1000, 'loose', 1], [expect.closeTo(-200, 6), 'strict', 1]]);
    expect(seasonRows(occurrences, ADA)[2]?.change?.sinceAt).toBe(occurrences[0]?.at);
  });

  test('is held against nothing that was broken off or not timed', () => {
    const broken = [swumOn(0, [swumOnce(ADA, 28, { isWhole: false })]), swumOn(1, [swumOnce(ADA, null)])];
    expect(changes([...broken, swumOn(2, [swumOnce(ADA, 30)])], ADA)).toEqual([null, null, null]);
  });

  test('of one swimmer leaves out the days that one was not there', () => {
    const occurrences = [swumOn(0, [swumOnce(BELA, 33)]), swumOn(1, [swumOnce(ADA, 30), swumOnce(BELA, 33)])];
    expect(seasonRows(occurrences, ADA).map(({ occurrence }) => occurrence.title)).toEqual(['Practice 2']);
    expect(swimmersOf(occurrences)).toEqual([BELA, ADA]);
  });

  test('says how it was sent off', () => {
    const [row] = seasonRows([swumOn(0, [swumOnce(ADA, 30), swumOnce(BELA, 33, { strict: ON_SEVENTY })])], 'squad');
    expect(row && rowSendOffs(row, LOOSE)).toEqual(['@ 1:00, at 200 pace', '@ 1:10, at 200 pace']);
  });
});

describe('its chart', () => {
  const history = historyOf(
    swumOn(0, [swumOnce(ADA, 30), swumOnce(BELA, 33)]),
    swumOn(1, [swumOnce(ADA, 31, { strict: ON_SEVENTY })]),
    swumOn(2, [swumOnce(ADA, 29.8), swumOnce(BELA, 32.6)]),
  );

  test('joins what was strictly the same across what was not, which stands by itself', () => {
    const chart = seasonChart({ history, of: ADA }, FACE);
    const own = chart.lines.filter(({ name }) => name === 'Ada Vance');
    expect(own.map(({ joins, values }) => [joins, values])).toEqual([
      ['all', [30_000, null, 29_800]],
      ['none', [null, 31_000, null]],
    ]);
    expect(own.map(({ marks }) => marks.map((mark) => mark?.shape ?? null))).toEqual([
      ['disc', null, 'disc'],
      [null, 'diamond', null],
    ]);
    expect(chart.ticks.map(({ text }) => text)).toEqual(['1 Jan', '8 Jan', '15 Jan']);
  });

  test('has each swimmer faintly and who is chosen on top', () => {
    const inks = (of: SeasonOf) => seasonChart({ history, of }, FACE).lines.map(({ name, ink }) => `${name} ${ink}`);
    expect(new Set(inks('squad'))).toEqual(new Set(['Ada Vance faint', 'Bela Sorn faint', 'Squad mean chief']));
    expect(inks(BELA).slice(-2)).toEqual(['Bela Sorn chief', 'Bela Sorn chief']);
  });

  test('keeps two sets of one instant apart', () => {
    const twice = historyOf(swumOn(0, [swumOnce(ADA, 30)]), swumOn(0, [swumOnce(BELA, 33)], { set: 2 }));
    const chart = seasonChart({ history: twice, of: 'squad' }, FACE);
    expect((chart.xs[1] ?? 0) - (chart.xs[0] ?? 0)).toBe(1);
    expect(seasonReading({ history: twice, of: 'squad' }, chart, 1)).toBe('1 Jan: 33.0');
  });

  test('is told in words', () => {
    expect(seasonGist({ history, of: ADA })).toBe(
      'Chart of the means of Ada Vance: 3, the first 30.0, the last 29.8, between 29.8 and 31.0. The table below has each.',
    );
    const chart = seasonChart({ history, of: ADA }, FACE);
    expect(seasonReading({ history, of: ADA }, chart, 1)).toBe('8 Jan: 31.0, another send-off or effort');
    expect(seasonReading({ history, of: BELA }, chart, 1)).toBe('8 Jan: no times');
  });
});

const kind = (signature: string, style: SetKind['style'], more: Partial<SetKind> = {}): SetKind => ({
  ...{ signature, style, occurrences: 4, swimmers: 12, lastAt: instant(Date.UTC(2027, 0, 15)) },
  ...more,
});

describe('the list of sets', () => {
  const kinds = [
    kind(LOOSE, 'race pace'),
    kind('power: 8 × 25 free, from a dive, with parachute, SCM', 'power'),
    kind('race pace: 3 × 4 × 50 fly, from a push, SCM', 'race pace'),
  ];
  const found = (typed: string) => kindsLike(kinds, typed).map((one) => kinds.indexOf(one));

  test('says each in words, and how often it was swum by how many', () => {
    expect(kinds.map(kindWords)[1]).toBe('8 × 25 free, from a dive, with parachute, SCM');
    expect(oftenWords(kind(LOOSE, 'race pace'))).toBe('swum 4 times by 12 swimmers');
    expect(oftenWords(kind(LOOSE, 'race pace', { occurrences: 1, swimmers: 1 }))).toBe('swum once by 1 swimmer');
  });

  test('is searched by typing, however the count is written', () => {
    expect([found('8 x 50'), found('8x50'), found('8 × 50 FREE')]).toEqual([[0], [0], [0]]);
    expect([found('3x4x50'), found('power dive'), found('race fly'), found('  ')]).toEqual([[2], [1], [2], [0, 1, 2]]);
    expect(found('breast')).toEqual([]);
  });
});

describe('the season on the desk', () => {
  function onDesk() {
    const asked: string[] = [];
    const answers = new Map<string, (answer: SetHistoryAnswer) => void>();
    const model = createSeason({
      setKinds: async (limit, rehearsed) => {
        asked.push(`sets ${limit}${rehearsed ? ' rehearsed' : ''}`);
        return { ok: true, value: { kinds: [kind(LOOSE, 'race pace')], more: limit < 500 } };
      },
      setHistory: async (signature, rehearsed) => {
        asked.push(`${signature}${rehearsed ? ' rehearsed' : ''}`);
        return { ok: true, value: await new Promise((answer) => answers.set(signature, answer)) };
      },
    });
    return { model, asked, answers };
  }

  test('counts what was rehearsed only when that is asked', async () => {
    const { model, asked, answers } = onDesk();
    const chosen = model.choose('A');
    answers.get('A')?.({ ...historyOf(), signature: 'A' });
    await chosen;
    void model.countRehearsed(true);
    expect(asked).toEqual(['A', 'sets 50 rehearsed', 'A rehearsed']);
  });

  test('is of the set chosen last, whichever answer comes last', async () => {
    const { model, answers } = onDesk();
    const both = [model.choose('A'), model.choose('B')];
    answers.get('B')?.({ ...historyOf(), signature: 'B' });
    answers.get('A')?.({ ...historyOf(), signature: 'A' });
    await Promise.all(both);
    expect(model.shown.value?.signature).toBe('B');
  });

  test('knows that a set which has not been swum yet is no failure', async () => {
    const model = createSeason({
      setKinds: async () => ({ ok: true, value: { kinds: [], more: false } }),
      setHistory: async () => ({ ok: false, code: 'no-such-set', message: 'Such a set has never been swum.' }),
    });
    await model.choose('A');
    expect([model.unknown.value, model.problem.value]).toEqual(['A', null]);
  });

  test('has more sets when they are asked for, and says what went wrong', async () => {
    const { model, asked } = onDesk();
    await model.reload();
    expect([model.kinds.value?.length, model.more.value]).toEqual([1, true]);
    await model.showOlder();
    expect([asked, model.more.value]).toEqual([['sets 50', 'sets 500'], false]);
    const down = createSeason({
      setKinds: async () => ({ ok: false, code: 'no-server', message: 'The server does not answer.' }),
      setHistory: async () => ({ ok: false, code: 'no-server', message: 'The server does not answer.' }),
    });
    await down.reload();
    expect([down.kinds.value, down.problem.value?.message]).toEqual([null, 'The server does not answer.']);
  });
});
