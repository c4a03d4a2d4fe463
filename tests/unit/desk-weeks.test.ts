import { describe, expect, test } from 'vitest';
import { longDay, shortDay } from '../../client/desk/days.ts';
import type { WeeksQuestion } from '../../client/desk/desk-server.ts';
import { createWeeks } from '../../client/desk/weeks-model.ts';
import { leftOutWords, metresText, minutesText, setsText, weekSpan, wholeWeek } from '../../client/desk/weeks-words.ts';
import { STYLES } from '../../shared-types/practice.ts';
import type { Week } from '../../shared-types/results.ts';
import type { WeeksAnswer } from '../../shared-types/wire/history.ts';
import { ADA } from '../fixtures/set-history.ts';

const week = (day: string, ...byStyle: Week['byStyle']): Week => ({
  day,
  byStyle,
  leftOut: STYLES.filter((style) => byStyle.every((own) => own.style !== style)),
});

const PACE = { style: 'race pace', sets: 2, metres: 1200, minutes: 28.6 } as const;
const AEROBIC = { style: 'aerobic', sets: 1, metres: 400, minutes: 8 } as const;

describe('a week in words', () => {
  test('is said by its days, also over the end of a year', () => {
    expect(weekSpan({ day: '2027-01-15' })).toBe('9 Jan to 15 Jan 2027');
    expect(weekSpan({ day: '2027-01-03' })).toBe('28 Dec to 3 Jan 2027');
  });

  test('says first what it has left out', () => {
    expect(leftOutWords(week('2027-01-15', PACE, AEROBIC))).toBe(
      'Left out: active rest, best average, stand-up, power, threshold, skills.',
    );
    expect(leftOutWords(week('2027-01-15'))).toBe('Nothing was swum in these seven days.');
    const all = week('2027-01-15', ...STYLES.map((style) => ({ ...PACE, style })));
    expect(leftOutWords(all)).toBe('Nothing is left out: every style was swum.');
  });

  test('has minutes, sets and distance, in yards for a pool of yards', () => {
    expect([minutesText(PACE), setsText(PACE), metresText(PACE, 'SCM')]).toEqual(['29 min', '2 sets', '1,200 m']);
    expect([minutesText({ minutes: 0.4 }), setsText(AEROBIC)]).toEqual(['< 1 min', '1 set']);
    // 1 yd is 0.9144 m.
    expect(metresText({ metres: 914.4 }, 'SCY')).toBe('1,000 yd');
    expect(wholeWeek(week('2027-01-15', PACE, AEROBIC))).toEqual({ sets: 3, metres: 1600, minutes: 36.6 });
  });
});

test('days are those of the pool clock', () => {
  const [face, at] = [{ timezone: 'Europe/Lisbon', trimMs: 0 }, Date.UTC(2027, 6, 15, 23, 30)];
  expect([shortDay(at, face), longDay(at, face)]).toEqual(['16 Jul', 'Fri 16 Jul 2027']);
  expect(shortDay(at, { ...face, trimMs: -3_600_000 })).toBe('15 Jul');
});

describe('the weeks on the desk', () => {
  function onDesk() {
    const asked: WeeksQuestion[] = [];
    const answers: ((answer: WeeksAnswer) => void)[] = [];
    const model = createWeeks({
      weeks: async (question) => {
        asked.push(question);
        return { ok: true, value: await new Promise((answer) => answers.push(answer)) };
      },
    });
    return { model, asked, answers };
  }
  const answerOf = (day: string): WeeksAnswer => ({ weeks: [week(day)], labels: {} });

  test('end today, of the squad, without what was rehearsed', async () => {
    const { model, asked, answers } = onDesk();
    const asking = model.reload();
    expect([asked, model.isBehind.value]).toEqual([[{ day: null, weeks: 12, swimmer: null, rehearsed: false }], true]);
    expect(model.day.value).toBe(null);
    answers[0]?.(answerOf('2027-01-15'));
    await asking;
    expect([model.day.value, model.isBehind.value]).toEqual(['2027-01-15', false]);
  });

  test('end today, whichever day that is by now, unless a day was chosen', () => {
    const { model, asked } = onDesk();
    void model.endOn('2026-12-31');
    void model.reload();
    expect(model.day.value).toBe('2026-12-31');
    void model.endOn(null);
    expect(asked.map(({ day }) => day)).toEqual(['2026-12-31', '2026-12-31', null]);
  });

  test('are those chosen last, whichever answer comes last', async () => {
    const { model, asked, answers } = onDesk();
    const all = [model.reload(), model.of(ADA), model.countRehearsed(true), model.showMore()];
    expect(asked[3]).toEqual({ day: null, weeks: 53, swimmer: ADA, rehearsed: true });
    answers[3]?.(answerOf('2027-01-15'));
    answers[0]?.(answerOf('1999-01-01'));
    answers[1]?.(answerOf('1999-01-01'));
    answers[2]?.(answerOf('1999-01-01'));
    await Promise.all(all);
    expect([model.shown.value?.weeks[0]?.day, model.more.value]).toEqual(['2027-01-15', false]);
  });
});
