import { describe, expect, it } from 'vitest';
import { readSquadCsv } from '../../server/planning/squad-csv.ts';
import { countedIds, demoSquad } from '../fixtures/planning.ts';

const read = (csv: string): ReturnType<typeof readSquadCsv> => readSquadCsv(csv, countedIds());
const header = 'swimmer,lane,order,group,category,main,event,course,time,kind,date,half';

describe('a squad from CSV', () => {
  it('has one row per reference time; repeated swimmer cells may be empty', () => {
    const { squad, problems } = read(
      `${header}\nAda Vance,1,1,A,women,200 fly,200 free,SCM,1:58.40,best,2026-10-12,57.90\n,,,,,,100 free kick,LCM,1:25.3,test,,\n`,
    );
    expect(problems).toEqual([]);
    expect(squad.swimmers).toEqual([
      {
        id: '00000000000000000000000000000001',
        name: 'Ada Vance',
        lane: 1,
        order: 1,
        group: 'A',
        category: 'women',
        main: { distance: 200, stroke: 'fly', activity: 'swim' },
        references: [
          {
            event: { distance: 200, stroke: 'free', activity: 'swim' },
            course: 'SCM',
            timeMs: 118_400,
            kind: 'best',
            date: '2026-10-12',
            halfMs: 57_900,
          },
          { event: { distance: 100, stroke: 'free', activity: 'kick' }, course: 'LCM', timeMs: 85_300, kind: 'test' },
        ],
      },
    ]);
  });

  it('reads any order of columns, semicolons, a BOM, CRLF, quotes and decimal commas', () => {
    const { squad, problems } = read('\uFEFFtime;event;swimmer;course\r\n"1:58,40";200 free;"Vance; Ada";SCM\r\n');
    expect(problems).toEqual([]);
    expect(squad.swimmers[0]).toMatchObject({ name: 'Vance; Ada', references: [{ timeMs: 118_400, kind: 'best' }] });
  });

  it.each(['1:58.4', '118.4', '"1.58,40"'])('reads a time written as %s', (written) => {
    const { squad, problems } = read(`swimmer,event,course,time\nAda Vance,200 free,SCM,${written}\n`);
    expect(problems).toEqual([]);
    expect(squad.swimmers[0]).toMatchObject({ references: [{ timeMs: 118_400 }] });
  });

  it('says what is missing in the header', () => {
    expect(read('swimmer,event,time\n').problems).toEqual([
      { line: 1, column: 1, text: 'the header has no column "course"', fix: expect.stringContaining('swimmer,lane') },
    ]);
    expect(read('swimmer,event,course,time,shoe size\n').problems[0]).toMatchObject({ line: 1, column: 5 });
  });

  it('leaves out a column of birth dates and says so, whatever stands in it', () => {
    const { squad, problems, leftOut } = read(
      'swimmer,Date of birth,event,course,time\nAda Vance,2014-03-01,200 free,SCM,2:00.00\nBo Tarn,?,200 free,SCM,2:10.00\n',
    );
    expect([problems, leftOut]).toEqual([[], ['Date of birth']]);
    expect(squad.swimmers.map(({ name }) => name)).toEqual(['Ada Vance', 'Bo Tarn']);
    expect(JSON.stringify(squad)).not.toContain('2014');
  });

  it('says every bad row at once, with line and field', () => {
    const { problems } = read(
      `${header}\nAda,13,,,,,200 free,SCM,1;58,,,\nBo,2,,,,,200 crawl,SCM,2:00.00,,,\nCy,3,,,,,200 free,SCM,2:00.00,record,12.10.2026,2:10.0\n`,
    );
    expect(problems.map(({ line, column, text }) => `${line}:${column} ${text}`)).toEqual([
      '2:2 "13" is not a lane (1 to 12)',
      '2:9 "1;58" is not a swim time',
      '3:7 "200 crawl" is not an event',
      '4:10 "record" is not a kind of time (best, goal, test, or mean for a set)',
      '4:11 "12.10.2026" is not a date',
      '4:12 the half split 2:10.00 of Cy is not less than the time 2:00.00',
    ]);
  });

  it('refuses a swimmer with two lanes', () => {
    const { problems } = read(`${header}\nAda,1,,,,,200 free,SCM,1:58.40,,,\nAda,2,,,,,100 free,SCM,55.0,,,\n`);
    expect(problems.map(({ line, text }) => `${line} ${text}`)).toEqual(['3 Ada has another lane than on line 2']);
  });

  it('reads the demo squad of 24 in 6 lanes', () => {
    const { swimmers } = demoSquad();
    expect(swimmers).toHaveLength(24);
    expect(new Set(swimmers.map(({ lane }) => lane)).size).toBe(6);
  });
});

describe('what would be lost silently is refused', () => {
  it('a quote that is never closed', () => {
    const { problems } = read(
      'swimmer,event,course,time\nAda,200 free,SCM,2:00.00\n"Bob,200 free,SCM,2:01.00\nCleo,200 free,SCM,2:02.00\n',
    );
    expect(problems).toMatchObject([{ line: 3, text: 'a quote in this row is not closed' }]);
  });

  it('hundredths after a decimal comma in a file with commas', () => {
    const { problems } = read('swimmer,event,course,time\nAda,200 free,SCM,1:58,40\n');
    expect(problems).toMatchObject([{ line: 2, column: 5, text: expect.stringContaining('more cells') }]);
  });

  it('and lines are counted through cells with line breaks', () => {
    const { problems } = read('swimmer,event,course,time\n"Ada\nVance",200 free,SCM,2:00.00\nBo,200 free,SCM,fast\n');
    expect(problems).toMatchObject([{ line: 4, column: 4 }]);
  });
});

describe('splits and times that cannot be', () => {
  const rows = 'swimmer,event,course,time,half,splits';
  const problems = (row: string): string[] =>
    read(`${rows}\n${row}\n`).problems.map(({ column, text }) => `${column} ${text}`);

  it("men's 200 m individual medley, August 2024, as printed in the press: 24.74 28.83 32.36 28.15 adds to 1:54.08, not 1:54.06", () => {
    expect(problems('Ada,200 IM,LCM,1:54.06,,24.74 28.83 32.36 28.15')).toEqual([
      '6 the splits of Ada add up to 1:54.08, the time is 1:54.06',
    ]);
  });

  it("men's 200 m individual medley, world record of 2011: 24.89 28.59 33.03 27.49 is 1:54.00", () => {
    const { squad } = read(`${rows}\nAda,200 IM,LCM,1:54.00,,24.89 28.59 33.03 27.49\n`);
    expect(squad.swimmers[0]?.references[0]?.splitsMs).toEqual([24_890, 28_590, 33_030, 27_490]);
  });

  it('splits that are no times, no equal lengths, or say another half', () => {
    expect(problems('Ada,200 free,SCM,2:00.00,,28.0 fast')).toEqual(['6 "28.0 fast" are not split times']);
    expect(problems('Ada,200 free,SCM,2:00.00,,40.0 40.0 40.0')).toEqual([
      '6 3 splits do not divide 200 into equal lengths',
    ]);
    expect(problems('Ada,200 free,SCM,2:00.00,58.50,58.00 62.00')).toEqual([
      '5 the half split 58.50 of Ada is not the 58.00 of the splits',
    ]);
  });

  it('times nobody swims', () => {
    expect(problems('Ada,200 free,SCM,22:10.00,,')).toEqual(['4 22:10.00 over 200 is slower than anybody swims']);
    expect(problems('Ada,200 free,SCM,1:10.00,,')).toEqual(['4 1:10.00 over 200 is faster than anybody swims']);
  });

  it('but reads women and men as spreadsheets have them', () => {
    const { squad } = read('swimmer,category,event,course,time\nAda,F,200 free,SCM,2:00\nBo,m,200 free,SCM,2:00\n');
    expect(squad.swimmers.map(({ category }) => category)).toEqual(['women', 'men']);
  });
});
