import { setImmediate as afterOthers } from 'node:timers/promises';
import { signal } from '@preact/signals-core';
import { describe, expect, test } from 'vitest';
import type { LinkState, LivePractice, Times } from '../../client/common/live.ts';
import { changeWords, figureColumns } from '../../client/desk/result-figures.ts';
import {
  dayAndTime,
  kindWords,
  missingWords,
  runWords,
  targetText,
  targetWords,
  withoutTimes,
} from '../../client/desk/result-words.ts';
import { createResults } from '../../client/desk/results-model.ts';
import { instant, ms, practiceIdSchema, type RunId, runIdSchema } from '../../shared-types/brand.ts';
import { type MarkBook, NO_MARKS } from '../../shared-types/marks.ts';
import { STYLES } from '../../shared-types/practice.ts';
import { LEADS, none } from '../../shared-types/results.ts';
import type { ResultsAnswer, RunSummary, ShownSwimmer } from '../../shared-types/wire/results.ts';

const runId = (digit: string): RunId => runIdSchema.parse(digit.repeat(32));
const [OLD, LIVE] = [runId('1'), runId('2')];

const summary = (id: RunId, more: Partial<RunSummary> = {}): RunSummary => ({
  id,
  practice: practiceIdSchema.parse('a'.repeat(32)),
  title: 'Monday',
  loadedAt: instant(Date.UTC(2027, 0, 15, 18, 5)),
  state: 'finished',
  live: false,
  rehearsed: false,
  times: 12,
  markSeq: 12,
  ...more,
});

describe('the words of a rep', () => {
  const judged = (...verdicts: ('held' | 'under' | 'missed' | 'unjudged')[]) =>
    targetWords({ judgements: verdicts.map((verdict) => ({ distance: 50, verdict })) })?.words ?? null;
  const target = (...splits: [distance: number, seconds: number, paced: boolean][]) => ({
    ms: ms(75_000),
    estimated: false,
    splits: splits.map(([distance, seconds, paced]) => ({ distance, ms: ms(seconds * 1000), paced })),
  });

  test('say what became of its target, of several paced parts how many were held', () => {
    expect([judged('held'), judged('under'), judged('missed')]).toEqual(['held', 'under', 'missed']);
    expect(judged('held', 'missed', 'under')).toBe('2 of 3 held');
    expect(judged('held', 'unjudged')).toBe('1 of 1 held');
    expect([judged('unjudged'), judged('unjudged', 'unjudged')]).toEqual(['no split', 'no split']);
    expect(judged()).toBe(null);
    expect(targetWords({ judgements: [{ distance: 50, verdict: 'unjudged' }], missing: 'not timed' })).toBe(null);
  });

  test('give the time that was asked, of a paced part at the start its own', () => {
    expect(targetText({ target: target([50, 30, true], [100, 75, false]) })).toBe('50: 30.0');
    expect(targetText({ target: target([50, 37, true], [100, 75, true]) })).toBe('1:15.0');
    expect(targetText({ target: target([25, 15, true], [50, 31, true], [100, 75, false]) })).toBe('50: 31.0');
    expect(targetText({ target: target([50, 45, false], [100, 75, true]) })).toBe('1:15.0');
    expect(targetText({ target: { ...target(), estimated: true } })).toBe('≈ 1:15.0');
    expect(targetText({ target: { ...target(), ms: null } })).toBe(null);
  });

  test('never say of a rep whose paced part was timed that it was not timed', () => {
    const split = { distance: 50, ms: ms(29_800), takenAt: 'turn' as const };
    expect(missingWords({ missing: 'not timed', splits: [split] })).toBe('finish not timed');
    expect(missingWords({ missing: 'not timed', splits: [] })).toBe('not timed');
    expect(missingWords({ missing: 'not swum', splits: [] })).toBe('not swum');
  });

  test('name stroke and activity only where reps differ in them', () => {
    const reps = [
      { stroke: 'fly', activity: 'kick' },
      { stroke: 'back', activity: 'swim' },
      { stroke: 'fly', activity: 'swim' },
    ] as const;
    expect(reps.map((rep) => kindWords(rep, reps))).toEqual(['fly kick', 'back swim', 'fly swim']);
    expect(kindWords(reps[0], [reps[0], reps[2]])).toBe('kick');
    expect(kindWords(reps[1], [reps[1], reps[2]])).toBe('back');
    expect(kindWords(reps[0], [reps[0]])).toBe('');
  });
});

test('a run is told by its day on the pool clock, how far it came and how many times were taken', () => {
  const face = { timezone: 'Europe/Lisbon', trimMs: 0 };
  expect(dayAndTime(summary(OLD).loadedAt, face)).toBe('Fri 15 Jan 2027, 18:05');
  expect(runWords(summary(OLD))).toBe('finished, 12 times');
  expect(runWords(summary(OLD, { state: 'running', live: true, times: 1 }))).toBe('running, on the wall, 1 time');
  expect(runWords(summary(OLD, { rehearsed: true }))).toBe('finished, rehearsed, 12 times');
  expect(withoutTimes({ set: 0, line: 1, words: '', style: 'aerobic', section: '', detail: '', swimmers: [] })).toBe(
    'Not swum.',
  );
});

test('the table of a set opens with what leads its style', () => {
  for (const style of STYLES) expect(figureColumns(style).leading).toHaveLength(LEADS[style].length);
});

test('a change is written with the day it is held against, and whether send-off or effort were others then', () => {
  const written = (change: ShownSwimmer['change']) => changeWords({ change }, { timezone: 'Europe/Lisbon', trimMs: 0 });
  // Half past midnight of the 15th in Lisbon's summer.
  const at = instant(Date.UTC(2027, 6, 14, 23, 30));
  expect(written({ meanMs: -449.6, likeness: 'strict', at })).toEqual({ text: '−0.4', against: 'since 15 Jul 2027' });
  expect(written({ meanMs: 1250, likeness: 'loose', at })).toEqual({
    text: '+1.3',
    against: 'since 15 Jul 2027, other send-off or effort',
  });
  expect(written({ meanMs: none('no times'), likeness: 'strict', at })).toEqual({ why: 'no times' });
  expect(written(none('not swum before'))).toEqual({ why: 'not swum before' });
});

describe('the results on the desk', () => {
  function onDesk() {
    const list = signal([summary(LIVE, { live: true, state: 'running' }), summary(OLD)]);
    const link = {
      practice: signal<LivePractice | null>(null),
      times: {
        book: signal<MarkBook>(NO_MARKS),
        heard: signal<Times['heard']['value']>(null),
        waiting: signal([]),
        refusal: signal(null),
      },
      state: signal<LinkState>('live'),
    };
    const asked: RunId[] = [];
    const answers = new Map<RunId, (answer: ResultsAnswer) => void>();
    const due: (() => void)[] = [];
    const model = createResults(
      {
        runs: async () => ({ ok: true, value: { runs: list.value, more: false } }),
        results: async (run) => {
          asked.push(run);
          return { ok: true, value: await new Promise<ResultsAnswer>((answer) => answers.set(run, answer)) };
        },
      },
      { ...link, times: { ...link.times, departuresAt: () => [], mark: () => null } },
      (run) => {
        due.push(run);
        return () => void due.splice(due.indexOf(run), 1);
      },
    );
    const timed = (): void => {
      link.times.book.value = { ...NO_MARKS, seq: link.times.book.value.seq + 1 };
    };
    const answer = (id: RunId, markSeq = 12): void =>
      answers.get(id)?.({ run: summary(id, { live: id === LIVE, markSeq }), course: 'SCM', labels: {}, sets: [] });
    /** A time comes late for the practice that is off the wall. */
    const timedLate = (): void => {
      list.value = list.value.map((run) => (run.id === OLD ? { ...run, markSeq: run.markSeq + 1 } : run));
      link.times.heard.value = { run: OLD, seq: list.value[1]?.markSeq ?? 0 };
    };
    return { model, asked, due, timed, timedLate, answer };
  }

  test('open with the newest run, and ask once for many times that are taken', async () => {
    const { model, asked, due, timed, answer } = onDesk();
    const stop = model.follow();
    await expect.poll(() => asked).toEqual([LIVE]);
    answer(LIVE);
    await expect.poll(() => model.shown.value?.run.id).toBe(LIVE);
    for (const _ of [1, 2, 3]) timed();
    expect(due).toHaveLength(1);
    due[0]?.();
    await expect.poll(() => asked).toEqual([LIVE, LIVE]);
    timed();
    expect(due).toHaveLength(2);
    stop();
    expect(due).toHaveLength(1);
    timed();
    expect(due).toHaveLength(1);
  });

  test('follow late times of a run that is off the wall, and ask for nothing when they are of another', async () => {
    const { model, asked, due, timed, timedLate, answer } = onDesk();
    const stop = model.follow();
    await expect.poll(() => asked).toEqual([LIVE]);
    model.choose(OLD);
    answer(OLD);
    await expect.poll(() => model.shown.value?.run.id).toBe(OLD);
    timedLate();
    expect(due).toHaveLength(1);
    due[0]?.();
    await expect.poll(() => asked).toEqual([LIVE, OLD, OLD]);
    answer(OLD, 13);
    await expect.poll(() => model.shown.value?.run.markSeq).toBe(13);
    timed();
    due[1]?.();
    await afterOthers();
    expect(asked).toEqual([LIVE, OLD, OLD]);
    stop();
  });

  test('are those of the run chosen last, whichever answer comes last', async () => {
    const { model, asked, answer } = onDesk();
    model.choose(LIVE);
    model.choose(OLD);
    await expect.poll(() => asked).toEqual([LIVE, OLD]);
    answer(OLD);
    await expect.poll(() => model.shown.value?.run.id).toBe(OLD);
    answer(LIVE);
    await afterOthers();
    expect(model.shown.value?.run.id).toBe(OLD);
  });
});
