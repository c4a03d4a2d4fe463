import { describe, expect, test } from 'vitest';
import { squadChanges } from '../../server/planning/squad-changes.ts';
import { readSquadCsv } from '../../server/planning/squad-csv.ts';
import { importedSquad } from '../../server/planning/squad-import.ts';
import type { Squad } from '../../shared-types/squad.ts';
import { best, countedIds, swimmer, time } from '../fixtures/planning.ts';

const HEADER = 'swimmer,lane,order,event,course,time';
const ADA = swimmer('Ada Vint', 1, 'A', [best('200 free', '2:10.00'), best('100 free', '1:00.00')], { order: 1 });
const BO = swimmer('Bo Tarn', 2, 'B', [best('200 free', '2:20.00')]);
const NOW: Squad = { swimmers: [ADA, BO] };

/** What becomes of the squad by these rows: the squad, and of each swimmer `kind name: what: was → becomes (line)`. */
function loaded(rows: readonly string[], before = NOW) {
  const reading = readSquadCsv([HEADER, ...rows].join('\n'), countedIds());
  const after = importedSquad(reading, before);
  const words = squadChanges(before, after, reading.rows).map(({ kind, name, changes }) => {
    const each = changes.map(({ what, was, becomes, line }) => `${what}: ${was} → ${becomes} (${line})`);
    return [`${kind} ${name}`, ...each].join('; ');
  });
  return { reading, after, words };
}

describe('what a file changes', () => {
  test('is told swimmer by swimmer, with what was, what becomes, and the line', () => {
    const { words } = loaded([
      'Ada Vint,3,1,200 free,SCM,2:09.00',
      ',,,50 free,SCM,27.50',
      'Cy Orr,2,,200 free,SCM,2:30.00',
    ]);
    expect(words).toEqual([
      'changed Ada Vint; lane: 1 → 3 (2); 200 free SCM, best: 2:10.00 → 2:09.00 (2); 50 free SCM, best: null → 27.50 (3); ' +
        'group: A → null (null); 100 free SCM, best: 1:00.00 → null (null)',
      'added Cy Orr; lane: null → 2 (4); 200 free SCM, best: null → 2:30.00 (4)',
      'removed Bo Tarn; lane: 2 → null (null); group: B → null (null); 200 free SCM, best: 2:20.00 → null (null)',
    ]);
  });

  test('is nothing when it says what is there already', () => {
    const rows = ['Ada Vint,1,1,200 free,SCM,2:10.00', ',,,100 free,SCM,1:00.00'];
    const without = { swimmers: NOW.swimmers.slice(0, 1).map(({ group: _, ...rest }) => rest) };
    const { words, after } = loaded(rows, without);
    expect(words).toEqual(['unchanged Ada Vint']);
    expect(after).toEqual(without);
  });

  test('keeps who is written with other capitals or spaces, and their id', () => {
    const { words, after } = loaded(['ada  vint,1,1,200 free,SCM,2:10.00', 'Bo Tarn,2,,200 free,SCM,2:20.00']);
    expect(words[0]).toContain('changed ada vint; name: Ada Vint → ada vint (2)');
    expect(after.swimmers.map(({ id }) => id)).toEqual([ADA.id, BO.id]);
  });

  test('does not take away what was taken over from results', () => {
    const test100 = time('100 free', '58.40', { kind: 'test', handTimed: true, date: '2026-10-12' });
    const before = { swimmers: [{ ...BO, references: [...BO.references, test100] }] };
    const { after } = loaded(['Bo Tarn,2,,200 free,SCM,2:20.00'], before);
    expect(after.swimmers[0]?.references).toContainEqual(test100);
  });
});

describe('a row that cannot be read', () => {
  test('costs the swimmer neither the time nor the place of now', () => {
    const { after, words } = loaded([
      'Ada Vint,1,1,200 free,SCM,2:0x',
      ',,,100 free,SCM,59.00',
      'Bo Tarn,99,,200 free,SCM,2:19',
    ]);
    expect(after.swimmers).toEqual([
      { ...ADA, references: [best('100 free', '59.00'), best('200 free', '2:10.00')] },
      BO,
    ]);
    expect(words).toEqual(['changed Ada Vint; 100 free SCM, best: 1:00.00 → 59.00 (3)', 'unchanged Bo Tarn']);
  });

  test('with too many cells gives the nameless rows below it to nobody', () => {
    const { reading, after } = loaded([
      'Ada Vint,1,1,200 free,SCM,2:09.00',
      'Bo Tarn,2,,200 free,SCM,2:19,00',
      ',,,50 free,SCM,29.00',
    ]);
    expect(reading.problems.map(({ line, text }) => `${line} ${text}`)).toEqual([
      '3 this row has more cells than the header has columns (6)',
      '4 this row belongs to line 3, which cannot be read',
    ]);
    expect(after.swimmers.map(({ name, references }) => [name, references.length])).toEqual([
      ['Ada Vint', 1],
      ['Bo Tarn', 1],
    ]);
  });

  test('makes nobody new, but leaves out no more of a new swimmer than itself', () => {
    const { words } = loaded(['Cy Orr,4,,200 free,SCM,fast', 'Dot Vale,5,,200 free,SCM,fast', ',,,50 free,SCM,30.00'], {
      swimmers: [],
    });
    expect(words).toEqual(['added Dot Vale; lane: null → 5 (3); 50 free SCM, best: null → 30.00 (4)']);
  });
});

describe('rows', () => {
  test('that say the same twice are taken once', () => {
    const { reading, after } = loaded(['Ada Vint,1,1,200 free,SCM,2:09.00', 'Ada Vint,1,1,200 free,SCM,2:09.00']);
    expect(reading.rows.map(({ state }) => state)).toEqual(['good', 'repeated']);
    expect(after.swimmers[0]?.references).toHaveLength(1);
  });

  test('cannot be told apart any more after a quote that does not close, or with a bad header', () => {
    expect(loaded(['Ada Vint,1,1,200 free,SCM,2:09.00', '"Bo,2,,200 free,SCM,2:19']).reading.rowsAreClear).toBe(false);
    expect(readSquadCsv('name,time\nAda,1', countedIds()).rowsAreClear).toBe(false);
    expect(loaded(['Ada Vint,1,1,200 free,SCM,2:0x']).reading.rowsAreClear).toBe(true);
  });
});
