import { describe, expect, test } from 'vitest';
import { loadText, readLoad, rigWords } from '../../client/desk/load-fields.ts';
import { after, below, columnsOf, type LoadCell, loadRows, nextDown } from '../../client/desk/load-grid.ts';
import { createLoads } from '../../client/desk/loads-model.ts';
import { setResultsOf } from '../../server/results/set-results.ts';
import { runIdSchema, type SwimmerId } from '../../shared-types/brand.ts';
import type { RepLoad } from '../../shared-types/loads.ts';
import type { ShownSwimmer } from '../../shared-types/wire/results.ts';
import { swimmer } from '../fixtures/planning.ts';
import { SwumPractice } from '../fixtures/swum-practice.ts';

const [ada, bela] = [swimmer('Ada Vance', 1, 'A', []), swimmer('Bela Sorn', 1, 'A', [])];
const labels = { [ada.id]: 'Ada Vance', [bela.id]: 'Bela Sorn' };
const run = runIdSchema.parse('1'.repeat(32));
const of = { run, set: 0, against: 'pulley' } as const;

/** Of three reps two have been swum by a minute past the second. */
function rowsOf(written: Readonly<Record<SwimmerId, RepLoad[]>> = {}) {
  const practice = new SwumPractice('Main\n3 x 25 free max with pulley 12 kg @ 2:00\n', { swimmers: [ada, bela] });
  const [set] = setResultsOf(practice.at(185));
  const swimmers = (set?.swimmers ?? []).map((own): ShownSwimmer => {
    const loads = written[own.swimmer];
    return { ...own, reps: own.reps.map((rep) => ({ ...rep, judgements: [] })), ...(loads ? { loads } : {}) };
  });
  return loadRows({ swimmers }, labels);
}

function cellOf(rows: ReturnType<typeof rowsOf>, name: string): LoadCell {
  const cell = rows.flatMap(({ cells }) => cells).find((one) => one.name === name);
  if (!cell) throw new Error(`no cell ${name}`);
  return cell;
}

const names = (cells: readonly LoadCell[]): string[] => cells.map(({ name }) => name);

describe('a load as it is written', () => {
  test.for([
    ['12', { kg: 12 }],
    ['12,5 kg', { kg: 12.5 }],
    ['60 N', { newtons: 60 }],
    ['60n', { newtons: 60 }],
    // 25 lb = 11.33980925 kg exactly (0.45359237 kg to the pound, 1959).
    ['25 lb', { kg: 11.34 }],
    [' ', null],
  ] as const)('on a pulley, “%s” is %j', ([text, load]) => {
    expect(readLoad(text, 'pulley')).toEqual(load);
  });

  test('where there is no stack, a number alone is a force, and a mass is refused', () => {
    expect(readLoad('60', 'other')).toEqual({ newtons: 60 });
    expect(readLoad('12 kg', 'other')).toMatchObject({ fix: 'Write a force, like 60 N.' });
  });

  test.for(['heavy', '0.2', '12 stone', '-12', '5000 N'])('“%s” is none, and it is said what to write', (text) => {
    expect(readLoad(text, 'pulley')).toEqual({
      message: `“${text}” is not a load.`,
      fix: 'Write 0.5 to 200 kg, or 1 to 1000 N; nothing where it was as the practice says.',
    });
  });

  test('stands beside the pulley that power is worked out with, or what is missing of it', () => {
    expect(rigWords({ ratio: 10, stackHeightM: 2.5, timedDistance: 20 })).toBe(
      'Power is worked out with 10 : 1, a stack that goes up 2.5 m, timed over 20.',
    );
    expect(rigWords({ stackHeightM: 2.5 })).toBe('Power needs the ratio of the pulley: write it on the squad page.');
  });

  test('is read as it is shown', () => {
    for (const load of [{ kg: 12 }, { kg: 11.34 }, { newtons: 60.5 }]) {
      expect(readLoad(loadText(load), 'pulley')).toEqual(load);
    }
  });
});

describe('the table of loads', () => {
  test('has the reps that were swum, and one that was not only where it has a load', () => {
    expect(columnsOf(rowsOf())).toEqual([1, 2]);
    const rows = rowsOf({ [bela.id]: [{ step: '2.0.0.3', load: { kg: 14 } }] });
    expect(rows.map(({ cells }) => cells.map(({ kept }) => kept))).toEqual([
      ['', ''],
      ['', '', '14 kg'],
    ]);
  });

  test('can be gone through down the columns, and filled to the right and down', () => {
    const rows = rowsOf();
    const first = cellOf(rows, 'Ada Vance, rep 1');
    expect(names(after(rows, first))).toEqual(['Ada Vance, rep 2']);
    expect(names(below(rows, first))).toEqual(['Bela Sorn, rep 1']);
    expect(nextDown(rows, first)?.name).toBe('Bela Sorn, rep 1');
    expect(nextDown(rows, cellOf(rows, 'Bela Sorn, rep 1'))?.name).toBe('Ada Vance, rep 2');
    expect(nextDown(rows, cellOf(rows, 'Bela Sorn, rep 2'))).toBe(null);
  });
});

describe('loads on their way to the server', () => {
  function onDesk(refused: readonly SwimmerId[] = []) {
    const sent: [SwimmerId, RepLoad[]][] = [];
    let askedAgain = 0;
    const model = createLoads(
      {
        keepLoads: async (_run, _set, swimmer, loads) => {
          if (refused.includes(swimmer)) return { ok: false, code: 'not-stored', message: 'The disk is full.' };
          sent.push([swimmer, loads]);
          return { ok: true, value: { loads } };
        },
      },
      {
        askAgain: async () => {
          askedAgain += 1;
        },
      },
    );
    return { model, sent, asked: () => askedAgain };
  }

  test('go by the row: only those in which something was typed, each with all its loads', async () => {
    const { model, sent, asked } = onDesk();
    const rows = rowsOf({ [bela.id]: [{ step: '2.0.0.1', load: { kg: 10 } }] });
    expect(model.hasTyped(of, rows)).toBe(false);
    model.type(of, [cellOf(rows, 'Bela Sorn, rep 2')], '14');
    expect(model.hasTyped(of, rows)).toBe(true);
    await model.keep(of, rows);
    expect(sent).toEqual([
      [
        bela.id,
        [
          { step: '2.0.0.1', load: { kg: 10 } },
          { step: '2.0.0.2', load: { kg: 14 } },
        ],
      ],
    ]);
    expect(asked()).toBe(1);
    expect(model.hasTyped(of, rows)).toBe(false);
  });

  test('are not sent with one that cannot be read, which is named; what was typed stays', async () => {
    const { model, sent } = onDesk();
    const rows = rowsOf();
    model.type(of, [cellOf(rows, 'Ada Vance, rep 1')], '12');
    model.type(of, [cellOf(rows, 'Bela Sorn, rep 2')], 'twelve');
    await model.keep(of, rows);
    expect(sent).toEqual([]);
    expect(model.problem.value?.message).toBe('Bela Sorn, rep 2: “twelve” is not a load.');
    expect(model.textIn(of, cellOf(rows, 'Ada Vance, rep 1'))).toBe('12');
  });

  test('that the server refuses stay typed, with whose they are and why', async () => {
    const { model, sent } = onDesk([bela.id]);
    const rows = rowsOf();
    model.type(of, [cellOf(rows, 'Ada Vance, rep 1'), cellOf(rows, 'Bela Sorn, rep 1')], '12');
    await model.keep(of, rows);
    expect(sent.map(([swimmer]) => swimmer)).toEqual([ada.id]);
    expect(model.problem.value?.message).toBe('Bela Sorn: The disk is full.');
    expect(model.textIn(of, cellOf(rows, 'Bela Sorn, rep 1'))).toBe('12');
  });

  test('typed back to what is kept are not typed', () => {
    const { model } = onDesk();
    const rows = rowsOf({ [ada.id]: [{ step: '2.0.0.1', load: { kg: 10 } }] });
    model.type(of, [cellOf(rows, 'Ada Vance, rep 1')], '11');
    model.type(of, [cellOf(rows, 'Ada Vance, rep 1')], '10 kg');
    expect(model.hasTyped(of, rows)).toBe(false);
  });
});
