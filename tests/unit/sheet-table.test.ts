import { describe, expect, it } from 'vitest';
import { sheetTable } from '../../server/planning/sheet-table.ts';
import { columnsOf, flow, shortened } from '../../server/planning/text-columns.ts';
import { best, pool25, sheetOf, swimmer } from '../fixtures/planning.ts';

describe('filling lines', () => {
  it('never breaks a piece that fits a line', () => {
    expect(flow(['one two,', 'three four,', 'five'], 12)).toEqual(['one two,', 'three four,', 'five']);
    expect(flow(['one two,', 'three four,', 'five'], 20)).toEqual(['one two, three four,', 'five']);
  });

  it('breaks a longer one at its spaces, with a hanging indent, and shortens what is left too long', () => {
    expect(flow(['one two three', 'four'], 8, 2)).toEqual(['one two', '  three', 'four']);
    expect(flow(['wonderfully so'], 8, 2)).toEqual(['wonde…', '  so']);
  });

  it('counts the columns that a letter takes: two for wide ones, none for an accent of its own', () => {
    expect(columnsOf('Ada → 30.00 ·')).toBe(13);
    expect(columnsOf('e\u0301va')).toBe(3);
    expect(columnsOf('田中')).toBe(4);
    expect(shortened('田中田中', 6)).toBe('田中…');
  });
});

/** A table of one lane: everything from its title on. */
function laneOf(text: string, names: readonly string[], references = [best('200 free', '2:00.00')]): string[] {
  const swimmers = names.map((name) => swimmer(name, 1, 'A', references));
  const table = sheetTable(
    sheetOf(text, { swimmers }, pool25),
    Object.fromEntries(swimmers.map(({ id, name }) => [id, name])),
  );
  const lines = table.split('\n');
  return lines.slice(lines.findIndex((line) => line.startsWith('Lane 1')));
}

describe('the table of a lane', () => {
  it('has rest and work:rest after each target', () => {
    // Even pace of 2:00 for 200 is 30.00 per 50; 1:10 − 30.00 = 40.0; 40 / 30 = 1.33.
    expect(laneOf('4 x 50 free @ 1:10 at 200 pace', ['Ada'])).toEqual([
      'Lane 1 · group A · 200 m · 1 Ada',
      '  at   line  what                     from  cycle  targets (rest, work:rest)',
      '  :00  1     4 × 50 free at 200 pace  near  1:10   Ada 30.00 (40.0, 1:1.3)',
      '',
    ]);
  });

  it('gives the targets what room they need before it gives the words any', () => {
    // 30.00 and 50 easy at 65 %, 46.154; 1:25 − 76.154 = 8.8; 8.846 / 76.154 = 0.12.
    const rows = laneOf('8 x 100 free @ 1:25 (50 at 200 pace, 50 easy) -- walls', ['Ottilie van Weststrate', 'Bo']);
    expect(rows).toContain(
      '  :00  1     8 × 100 free  near  1:25   Ottilie van Weststrate 30.00 → ~1:16.15 easy (8.8, 1:0.1),',
    );
  });

  it('goes on with the targets under themselves', () => {
    const names = ['Adelheid Vanterpool', 'Bartholomew Sorensen', 'Cato Lind'];
    const [, , ...rows] = laneOf('4 x 50 free @ 1:10 at 200 pace', names);
    expect(rows.slice(0, 3).map((row) => row.slice(0, 54).trimEnd())).toEqual([
      '  :00  1     4 × 50 free at 200 pace  near  1:10   Ade',
      '                                                   Bar',
      '                                                   Cat',
    ]);
  });

  it('shortens a name only where it fits no line', () => {
    const [long, longer] = ['x'.repeat(60), `${'y'.repeat(30)} ${'y'.repeat(29)}`];
    const rows = laneOf('4 x 50 free @ 1:10 at 200 pace', [long, longer]).join('\n');
    expect(rows).toMatch(/ 1 x{60},\n {2}2 y{30} y{29}, :05 apart\n/);
    expect(rows).toMatch(/x{50,}…\n +200 pace +30\.00 \(40\.0, 1:1\.3\),\n/);
    expect(rows).toMatch(/y{30} *\n +y{29} 30\.00 \(40\.0, 1:1\.3\)/);
  });

  it('marks what is estimated: easy swimming, and targets that come from other distances', () => {
    const two = [best('100 free', '57.00'), best('400 free', '4:20.00')];
    expect(laneOf('4 x 50 free @ 1:10 at 200 pace', ['Ada'], two).join('\n')).toMatch(/Ada ~\d\d\.\d\d \(/);
    // 30.00 at 65 % of the speed is 46.154.
    expect(laneOf('4 x 50 free @ 1:10 easy', ['Ada']).join('\n')).toContain('Ada ~46.15 easy (23.8, 1:0.5)');
    expect(laneOf('4 x 100 free @ 2:00 (50 at 200 pace, 50 easy)', ['Ada']).join('\n')).toContain(
      'Ada 30.00 → ~1:16.15 easy (43.8, 1:0.6)',
    );
  });

  it('explains the sign of an estimate only where there is one', () => {
    const table = (text: string): string => sheetTable(sheetOf(text), {});
    expect(table('4 x 50 free @ 1:10 easy')).toContain('~ marks an estimated time');
    expect(table('4 x 50 free @ 1:10 at 200 pace')).not.toContain('~');
  });
});

describe('the heading', () => {
  it('has each section once where the lanes have the same, else for each lot of lanes', () => {
    const table = sheetTable(sheetOf('Warm-up\n2 x 50 free @ 1:00\n\nMain set\n4/5/5 x 50 free @ 1:00'), {});
    expect(table).toContain(
      [
        'Sections',
        '  Warm-up              100 m  1 set  2:00',
        '  Main set  lane 1     200 m  1 set  4:00',
        '            lanes 2–3  250 m  1 set  5:00',
      ].join('\n'),
    );
  });
});
