import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { namePlaces, type TimeChart, ticksWithRoom, timeRange, timeTicks } from '../../client/desk/chart-model.ts';
import { type Drawn, type DrawnSet, isDrawable, repChart, swimmersWithTimes } from '../../client/desk/rep-chart.ts';
import { drawnPlaceWords, repGist, repKey, repReading, trendWords } from '../../client/desk/rep-chart-words.ts';
import { best, swimmer } from '../fixtures/planning.ts';
import { namesOf, shownSetsOf } from '../fixtures/shown-sets.ts';
import { SwumPractice } from '../fixtures/swum-practice.ts';

const ada = swimmer('Ada Vance', 1, 'A', [best('200 free', '2:00.00')]);
const bela = swimmer('Bela Sorn', 2, 'A', [best('200 free', '2:08.00')]);
const squad = { swimmers: [ada, bela] };
const labels = namesOf(squad);

/** The first set of a practice of one line and its times in seconds, as it is drawn; null: not taken. */
function drawn(practice: SwumPractice, who: Drawn = ada.id): DrawnSet {
  const [set] = shownSetsOf(practice);
  if (!set) throw new Error('nothing was swum');
  return { set, who, labels };
}

const swum = (line: string): SwumPractice => new SwumPractice(`Main\n${line}\n`, squad);

const PACED = '6 x 50 free @ 1:00 at 200 pace';
const shapes = ({ lines: [line] }: TimeChart) => line?.marks.map((mark) => mark?.shape ?? null);

describe('the chart of a set', () => {
  const paced = () => swum(PACED).finishes(ada.id, '2.0.0', [30, 30.2, 29.4, null, 30.9, 30]);

  test('has each time over its rep, told apart by shape, and a gap where one is missing', () => {
    const chart = repChart(drawn(paced()));
    expect(chart.xs).toEqual([1, 2, 3, 4, 5, 6]);
    expect(chart.lines.map(({ name, values }) => [name, values])).toEqual([
      ['Ada Vance', [30_000, 30_200, 29_400, null, 30_900, 30_000]],
    ]);
    expect(shapes(chart)).toEqual(['disc', 'disc', 'down', null, 'cross', 'disc']);
    expect(repKey(drawn(paced())).map(({ words }) => words)).toEqual([
      'held: 3',
      'under, faster than asked: 1',
      'missed: 1',
    ]);
  });

  test('has what was asked with its tolerance: 2:00.00 is 30.0 a 50, and 0.3 s still is a hit', () => {
    expect(repChart(drawn(paced())).asked).toEqual([{ from: 0.5, to: 6.5, ms: 30_000, toleranceMs: 300 }]);
  });

  test('has the least-squares line through the times: worked out by hand', () => {
    // Reps 1, 2, 3 in 30, 31, 33 s: mean 31 1/3, slope ((-1)(-4/3) + (1)(5/3)) / 2 = 1.5 s a rep.
    const chart = repChart(drawn(swum('3 x 50 free @ 1:00 max').finishes(ada.id, '2.0.0', [30, 31, 33])));
    expect(chart.trend?.from).toEqual({ x: 1, ms: expect.closeTo(31_333.333 - 1500, 2) });
    expect(chart.trend?.to).toEqual({ x: 3, ms: expect.closeTo(31_333.333 + 1500, 2) });
    expect(trendWords(chart)).toBe('1.50 s slower a rep');
    expect(chart.asked).toEqual([]);
  });

  test('of several strokes has no trend and joins nothing, and names the strokes under the reps', () => {
    const chart = repChart(drawn(swum('4 x 50 IM order @ 1:10').finishes(ada.id, '2.0.0', [35, 36, 40, 31])));
    expect([chart.trend, chart.lines[0]?.joins]).toEqual([null, 'none']);
    expect(chart.ticks.map(({ text }) => text)).toEqual(['1\nfly', '2\nback', '3\nbreast', '4\nfree']);
  });

  test('keeps rounds apart', () => {
    const rounds = new SwumPractice('Main\n2 rounds, 1:00 between:\n  2 x 50 free @ 1:00 at 200 pace\n', squad);
    const [set] = shownSetsOf(rounds);
    const [first, , third] = set?.swimmers[0]?.reps ?? [];
    rounds.take({ swimmer: ada.id, step: first?.step ?? '', seconds: 30 });
    rounds.take({ swimmer: ada.id, step: third?.step ?? '', seconds: 31 });
    const chart = repChart(drawn(rounds));
    expect(chart.xs).toEqual([1, 2, 2.5, 3, 4]);
    expect(chart.lines[0]?.values).toEqual([30_000, null, null, 31_000, null]);
    expect(chart.dividers).toEqual([
      { x: 0.5, text: 'Round 1', isDrawn: false },
      { x: 2.5, text: 'Round 2', isDrawn: true },
    ]);
  });

  test('of reps with an easy end has the times where the paced part ends, and no trend', () => {
    const practice = swum('3 x 100 free @ 1:40 (50 at 200 pace, 50 easy)');
    for (const [place, seconds] of [30.1, 30.9, 29.9].entries()) {
      practice.take({ swimmer: ada.id, step: `2.0.0.${place + 1}`, distance: 50, seconds });
    }
    const chart = repChart(drawn(practice));
    expect(chart.lines[0]?.values).toEqual([30_100, 30_900, 29_900]);
    expect(shapes(chart)).toEqual(['disc', 'cross', 'disc']);
    expect(chart.asked).toEqual([{ from: 0.5, to: 3.5, ms: 30_000, toleranceMs: 300 }]);
    expect(chart.trend).toBe(null);
    expect(drawnPlaceWords(drawn(practice))).toBe('The chart shows the times at 50, where the paced part ends.');
  });

  test('of everybody names the lines, and shows what was asked only where that was the same for all', () => {
    const both = paced().finishes(bela.id, '2.0.0', [32, 32, 33]);
    const chart = repChart(drawn(both, 'everybody'));
    expect(chart.lines.map(({ name, isNamed, ink }) => [name, isNamed, ink])).toEqual([
      ['Ada Vance', true, 0],
      ['Bela Sorn', true, 1],
    ]);
    expect([chart.asked, chart.trend]).toEqual([[], null]);
    expect(repReading(drawn(both, 'everybody'), chart, 2)).toBe('Rep 3: Ada Vance 29.4, Bela Sorn 33.0');
  });

  test('is told in words', () => {
    const chart = repChart(drawn(paced()));
    // The slope by hand: reps 1, 2, 3, 5, 6 about 3.4, times about 30.1; 1.4 / 17.2.
    expect(repGist(drawn(paced()), chart)).toBe(
      'Chart of Ada Vance: 5 times from 29.4 to 30.9; held: 3; under, faster than asked: 1; missed: 1; ' +
        '0.08 s slower a rep. The table below has every time.',
    );
    expect([3, 4].map((place) => repReading(drawn(paced()), chart, place))).toEqual([
      'Rep 4: no time',
      'Rep 5: 30.9, missed, asked 30.0',
    ]);
  });

  test('is there for sets of several reps of which something was timed', () => {
    expect(isDrawable(drawn(paced()).set)).toBe(true);
    expect(isDrawable(drawn(swum(PACED)).set)).toBe(false);
    expect(isDrawable(drawn(swum('1 x 200 free').finishes(ada.id, '2.0.0', [120])).set)).toBe(false);
    expect(swimmersWithTimes(drawn(paced()).set).map(({ swimmer: id }) => id)).toEqual([ada.id]);
  });
});

describe('the scale of times', () => {
  test('has round swim times and never more than have room', () => {
    expect(timeTicks(29_400, 31_100, 5)).toEqual([29_500, 30_000, 30_500, 31_000]);
    expect(timeTicks(58_000, 71_000, 4)).toEqual([60_000, 65_000, 70_000]);
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 900_000 }), fc.integer({ min: 1000, max: 600_000 }), (from, span) => {
        const ticks = timeTicks(from, from + span, 6);
        return ticks.length <= 6 && ticks.every((time) => time >= from && time <= from + span);
      }),
      { endOnFailure: true },
    );
  });

  test('leaves room around the times, and a second at least', () => {
    const line = (values: number[]) =>
      ({ name: '', values, marks: [], joins: 'all', ink: 'chief', isNamed: false }) as const;
    const chart = (values: number[]): TimeChart => ({
      ...{ xs: [], ticks: [], xLabel: '', range: { from: 0, to: 1 }, asked: [], dividers: [], trend: null },
      lines: [line(values)],
    });
    expect(timeRange(chart([30_000]))).toEqual({ from: 29_500, to: 30_500 });
    expect(timeRange(chart([30_000, 40_000]))).toEqual({ from: 28_800, to: 41_200 });
    expect(timeRange(chart([]))).toEqual({ from: 0, to: 1000 });
  });

  test('leaves out words that have no room', () => {
    const shown = (xs: number[], width: number) => {
      const ticks = xs.map((x) => ({ x, text: String(x) }));
      return ticksWithRoom({ ticks, range: { from: 0, to: 10 } }, width, () => 10).map(({ x }) => x);
    };
    expect([shown([1, 2, 3, 4, 5, 6], 200), shown([1, 2, 3, 4, 5, 6], 100)]).toEqual([
      [1, 2, 3, 4, 5, 6],
      [1, 3, 5],
    ]);
    expect(shown([1, 8, 9, 10], 100)).toEqual([1, 8, 10]);
  });
});

test('names at the ends of lines never lie on each other, and stay where there is room', () => {
  expect(namePlaces([10, 50, 12], 14, 200)).toEqual([10, 50, 24]);
  expect(namePlaces([195, 198], 14, 200)).toEqual([186, 200]);
  fc.assert(
    fc.property(fc.array(fc.integer({ min: 0, max: 300 }), { maxLength: 20 }), (wanted) => {
      const places = namePlaces(wanted, 14, 300).sort((a, b) => a - b);
      return places.every((place, at) => place <= 300 && (at === 0 || place - (places[at - 1] ?? 0) >= 14));
    }),
    { endOnFailure: true },
  );
});
