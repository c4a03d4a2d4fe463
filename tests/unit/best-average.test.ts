import { describe, expect, it } from 'vitest';
import { readSquadCsv } from '../../server/planning/squad-csv.ts';
import { countedIds, firstTarget, plan } from '../fixtures/planning.ts';

const HEADER = 'swimmer,lane,group,event,course,time,kind,date';

function squadWith(...rows: string[]) {
  const { squad, problems } = readSquadCsv([HEADER, ...rows].join('\n'), countedIds());
  expect(problems).toEqual([]);
  return squad;
}

describe('a best average is held against the last mean of the same set', () => {
  const squad = squadWith(
    'Ada Vance,1,A,12 x 50 free @ 1:30,SCM,31.85,mean,2026-10-06',
    ',,,12 x 50 free @ 1:30,SCM,31.40,mean,2026-11-03',
    ',,,12 x 50 free @ 1:30,SCM,32.20,mean,2026-09-08',
  );

  it('the latest one, with its date', () => {
    expect(firstTarget('12 x 50 free @ 1:30 best average', squad)).toMatchObject({
      ms: 31_400,
      restMs: 58_600,
      basis: 'mean of 12 × 50 free, from a push, SCM on 3 Nov 2026: 31.40',
      estimated: false,
    });
  });

  it('with another send-off only when there is none with this, and then it says so', () => {
    expect(firstTarget('12 x 50 free @ 1:20 best average', squad)).toMatchObject({
      ms: 31_400,
      basis: 'mean of 12 × 50 free, from a push, SCM on 3 Nov 2026: 31.40, with another send-off (@ 1:30)',
      estimated: true,
    });
  });

  it('never of another set: count, distance, stroke, activity, start, equipment or course', () => {
    const others = [
      '10 x 50 free @ 1:30 best average',
      '12 x 25 free @ 1:30 best average',
      '12 x 50 back @ 1:30 best average',
      '12 x 50 free kick @ 1:30 best average',
      '12 x 50 free from a dive @ 1:30 best average',
      '12 x 50 free with fins @ 1:30 best average',
    ];
    for (const text of others) expect(firstTarget(text, squad)?.ms).toBeNull();
    const lane = plan('12 x 50 back @ 1:30 best average', squad).messages;
    expect(lane.map(({ code, text }) => `${code}: ${text.replace(/\{.*\}/, 'Ada')}`)).toEqual([
      'no-reference: Ada has no earlier swim of this set: no target',
    ]);
  });

  it('each pace group has its own set', () => {
    const groups = squadWith(
      'Ada Vance,1,A,12 x 50 free @ 1:30,SCM,31.40,mean,',
      'Bela Sorn,2,B,10 x 50 free @ 1:40,SCM,34.10,mean,',
    );
    const { sheet } = plan('12/10 x 50 free @ 1:30/1:40 best average', groups);
    expect(sheet?.targets.map(({ ms }) => ms)).toEqual([31_400, 34_100]);
  });

  it('a mean needs a set', () => {
    const { problems } = readSquadCsv(`${HEADER}\nAda Vance,1,A,200 free and more,SCM,31.85,mean,\n`, countedIds());
    expect(problems).toMatchObject([{ line: 2, column: 4, fix: 'write it like 12 x 50 free @ 1:30' }]);
  });
});
