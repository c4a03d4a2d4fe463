import { signal } from '@preact/signals-core';
import { describe, expect, test } from 'vitest';
import type { LinkState, LivePractice, Times } from '../../client/common/live.ts';
import { leadLinesOver } from '../../client/deck/lead-lines.ts';
import { runIdSchema } from '../../shared-types/brand.ts';
import { type MarkBook, NO_MARKS } from '../../shared-types/marks.ts';
import type { LinesAnswer } from '../../shared-types/wire/results.ts';
import { started } from '../fixtures/coach.ts';
import { sheetOf } from '../fixtures/sheets.ts';

const SHEET = sheetOf({ lanes: 1 }, { reps: 2, every: 60 });

/** The lines of a deck, whose server answers when told to. */
function onDeck() {
  const { run } = started(SHEET);
  const practice = signal<LivePractice | null>({ run, sheet: SHEET, labels: {} });
  const book = signal<MarkBook>(NO_MARKS);
  const times: Times = {
    book,
    heard: signal(null),
    waiting: signal([]),
    refusal: signal(null),
    departuresAt: () => [],
    mark: () => null,
  };
  const asked: { readonly path: string; readonly answer: (told: LinesAnswer | null) => void }[] = [];
  const due: { readonly delayMs: number; readonly call: () => void }[] = [];
  const lines = leadLinesOver({
    link: { practice, times, state: signal<LinkState>('live') },
    fetchJson: (path) => new Promise((answer) => asked.push({ path, answer })),
    later: (delayMs, call) => {
      const timer = { delayMs, call };
      due.push(timer);
      return () => void due.splice(due.indexOf(timer), 1);
    },
  });
  const timed = (): void => {
    book.value = { ...NO_MARKS, seq: book.value.seq + 1 };
  };
  const answerOf = (markSeq: number): LinesAnswer => ({ run: run.id, markSeq, labels: {}, sets: [] });
  return { lines, practice, asked, due, timed, answerOf, run };
}

describe('the lines of results on the deck', () => {
  test('are asked for when somebody looks, then at most once in 3 s, and only after a time', async () => {
    const { lines, asked, due, timed, answerOf, run } = onDeck();
    timed();
    expect(asked).toEqual([]);
    const stop = lines.follow();
    expect(asked.map(({ path }) => path)).toEqual([`/api/runs/${run.id}/lines?role=deck`]);
    asked[0]?.answer(answerOf(1));
    await expect.poll(() => lines.shown.value).toEqual(answerOf(1));
    expect(due).toEqual([]);
    for (const _ of [1, 2, 3]) timed();
    expect(due.map(({ delayMs }) => delayMs)).toEqual([3000]);
    due[0]?.call();
    expect(asked).toHaveLength(2);
    timed();
    stop();
    timed();
    expect(asked).toHaveLength(2);
    expect(due).toHaveLength(1);
  });

  test('stay when the server does not answer, and an answer that comes late hides no newer one', async () => {
    const { lines, asked, due, timed, answerOf } = onDeck();
    lines.follow();
    timed();
    due[0]?.call();
    asked[1]?.answer(answerOf(2));
    await expect.poll(() => lines.shown.value?.markSeq).toBe(2);
    asked[0]?.answer(answerOf(1));
    timed();
    due[1]?.call();
    asked[2]?.answer(null);
    await Promise.resolve();
    expect(lines.shown.value?.markSeq).toBe(2);
  });

  test('of a practice that is off the wall are not taken for those of the next', async () => {
    const { lines, practice, asked, answerOf, run } = onDeck();
    lines.follow();
    practice.value = { run: { ...run, id: runIdSchema.parse('f'.repeat(32)) }, sheet: SHEET, labels: {} };
    asked[0]?.answer(answerOf(1));
    await Promise.resolve();
    expect(lines.shown.value).toBeNull();
  });
});
