import { describe, expect, test } from 'vitest';
import type { OutboxStorage } from '../../client/common/outbox.ts';
import { TakingChoices } from '../../client/deck/taking-choices.ts';
import { callableIn, type GridCell, gridOf, type LaneGrid } from '../../client/deck/time-grid.ts';
import { laneNumber, ms } from '../../shared-types/brand.ts';
import { type Coach, started } from '../fixtures/coach.ts';
import { DeckInMemory, labelsOf, TimesInMemory } from '../fixtures/deck-times.ts';
import { type Line, type Swim, sheetOf } from '../fixtures/sheets.ts';

const LANE = laneNumber(1);
const FORM = { lanes: 1, swimmers: 2, apart: 10 } as const;
const HELD_30: Swim = { splits: [[50, 30, true]] };
const HALF_EASY: Swim = {
  set: 1,
  distance: 100,
  splits: [
    [50, 30, true],
    [100, 80, false],
  ],
};

/** Ines and Marek, ten seconds apart: three 50s on 1:00 from :05, then two 100s on 2:00. */
function practice(...more: Parameters<Coach['press']>[]) {
  const lines: Line[] = [
    { reps: 3, every: 60, swim: HELD_30 },
    { reps: 2, every: 120, swim: HALF_EASY },
  ];
  const coach = started(sheetOf(FORM, ...lines));
  for (const press of more) coach.press(...press);
  const server = new TimesInMemory(coach);
  const deck = new DeckInMemory(server, labelsOf(FORM));
  const known = (seconds: number) => {
    const all = deck.times.known(deck.at(seconds));
    if (!all) throw new Error('nothing is on the wall');
    return all;
  };
  const grid = (seconds: number, set: number | null = null): LaneGrid => gridOf(known(seconds), LANE, set);
  return { server, deck, known, grid };
}

/** `Ines 29.0 (30.0)`: each row with times and targets; `–` where nobody left. */
const rowsOf = ({ rows }: LaneGrid): string[] =>
  rows.map(({ name, cells }) =>
    [name, ...cells.map((cell) => (cell ? `${cell.time || '?'} (${cell.target})` : '–'))].join(' '),
  );

function cellAt({ rows }: LaneGrid, row: number, column: number): GridCell {
  const cell = rows[row]?.cells[column];
  if (!cell) throw new Error(`nobody left there: ${row}, ${column}`);
  return cell;
}

describe("[CMD5] a lane's times of a set", () => {
  test('[CMD5] are swimmers by reps, with the target in each cell, as far as they have left', () => {
    const { deck, grid } = practice();
    expect(grid(3)).toMatchObject({ set: null, columns: [], rows: [] });
    deck.times.take(LANE, deck.at(34));
    expect(grid(70).columns).toEqual(['1', '2']);
    expect(rowsOf(grid(70))).toEqual(['Ines 29.0 (30.0) ? (30.0)', 'Marek ? (30.0) –']);
  });

  test('[CMD5] a time typed over another takes its place; emptied, there is none', () => {
    const { server, deck, grid } = practice();
    deck.times.take(LANE, deck.at(34));
    deck.times.type(LANE, cellAt(grid(40), 0, 0).thing, ms(29_500));
    deck.times.type(LANE, cellAt(grid(40), 1, 0).thing, ms(31_200));
    expect(rowsOf(grid(60))).toEqual(['Ines 29.5 (30.0)', 'Marek 31.2 (30.0)']);
    expect(server.marks.map(({ state, typed }) => `${state}${typed ? ' typed' : ''}`)).toEqual([
      'void',
      'counts typed',
      'counts typed',
    ]);
    deck.times.type(LANE, cellAt(grid(60), 0, 0).thing, null);
    expect(rowsOf(grid(60))[0]).toBe('Ines ? (30.0)');
    deck.times.undo(LANE, deck.at(61));
    expect(rowsOf(grid(61))[0]).toBe('Ines 29.5 (30.0)');
  });

  test('[CMD5] is the set begun last, and any before it', () => {
    const { grid } = practice();
    expect(grid(190).sets.map(({ set }) => set)).toEqual([0, 1]);
    expect(grid(190).set).toBe(1);
    expect(rowsOf(grid(190, 0))).toEqual(['Ines ? (30.0) ? (30.0) ? (30.0)', 'Marek ? (30.0) ? (30.0) ? (30.0)']);
  });

  test('[CMD2] a rep swum once more has a column of its own', () => {
    const { grid } = practice([{ kind: 'back', when: 'now' }, 40]);
    expect(grid(60).columns).toEqual(['1', '1 again']);
  });

  test('[CMD5] has a column for each place that is timed, and says what can be chosen', () => {
    const { server, deck, grid } = practice();
    const { run, sheet } = server.coach;
    expect(grid(190, 0).taking).toBeNull();
    expect(grid(190)).toMatchObject({ columns: ['1 at 50'], taking: 'part' });
    deck.choices.choose(run.id, sheet, 1, 'both');
    expect(grid(190)).toMatchObject({ columns: ['1 at 50', '1'], taking: 'both' });
    expect(rowsOf(grid(190))[0]).toBe('Ines ? (30.0) ? (1:20.0)');
    deck.choices.choose(run.id, sheet, 1, 'finish');
    expect(grid(190)).toMatchObject({ columns: ['1'], taking: 'finish' });
  });
});

describe('[CMD5] whose times can be called out', () => {
  test('[CMD5] who is still expected first, then who has a time already', () => {
    const { deck, known } = practice();
    const called = (seconds: number): string[] =>
      callableIn(known(seconds), LANE, deck.at(seconds)).map(({ name, time }) => `${name} ${time}`.trim());
    expect(called(3)).toEqual([]);
    expect(called(20)).toEqual(['Ines', 'Marek']);
    deck.times.take(LANE, deck.at(34));
    expect(called(36)).toEqual(['Marek', 'Ines 29.0']);
    expect(called(66)).toEqual(['Marek', 'Ines']);
  });
});

/** A device's storage in memory. */
function storage(): OutboxStorage {
  const items = new Map<string, string>();
  return {
    length: 0,
    getItem: (key) => items.get(key) ?? null,
    setItem: (key, value) => void items.set(key, value),
    removeItem: (key) => void items.delete(key),
    key: () => null,
  };
}

describe('what is timed of a set', () => {
  const { server } = practice();
  const { run, sheet } = server.coach;

  test('is kept through a reload, for that set of that practice', () => {
    const kept = storage();
    new TakingChoices(kept).choose(run.id, sheet, 1, 'both');
    const reloaded = new TakingChoices(kept);
    expect(reloaded.of(run.id, sheet, { set: 1 })).toBe('both');
    expect(reloaded.of(run.id, sheet, { set: 0 })).toBe('part');
    const elsewhere = run.id.replace(/^0/, 'f');
    kept.setItem('farwall-taking', JSON.stringify({ run: elsewhere, bySet: { 1: 'both' } }));
    expect(new TakingChoices(kept).of(run.id, sheet, { set: 1 })).toBe('part');
  });

  test('is the paced part when the storage holds nonsense', () => {
    const kept = storage();
    for (const nonsense of ['', '{', '{"run":3}', 'null']) {
      kept.setItem('farwall-taking', nonsense);
      expect(new TakingChoices(kept).of(run.id, sheet, { set: 1 })).toBe('part');
    }
  });
});
