import { describe, expect, it } from 'vitest';
import { signatureOf } from '../../server/planning/set-signature.ts';
import { parsePractice } from '../../server/planning/shorthand/parse.ts';
import { repTimesOf } from '../../server/results/rep-times.ts';
import { signatureOfSet } from '../../server/results/signature.ts';
import { ms } from '../../shared-types/brand.ts';
import type { Pool } from '../../shared-types/pool.ts';
import type { Signature } from '../../shared-types/results.ts';
import { pool25, sheetOf, threeLanes } from '../fixtures/planning.ts';

/** The signature of the first set of these lines, as lane 1 swims it. */
function signed(lines: string, pool: Pool = pool25, lane = 0): Signature {
  const sheet = sheetOf(`Main\n${lines}`, threeLanes, pool);
  const [swimmers] = repTimesOf({ versions: [sheet], departures: [], marks: [] });
  const [set] = sheet.sets;
  if (!set) throw new Error('no set');
  return signatureOfSet(set, swimmers?.[lane]?.reps ?? [], pool.course);
}

const loose = (lines: string, pool?: Pool): string => signed(lines, pool).loose;

describe('the signature of a set', () => {
  it('is a text that stays the same: what is swum, and strictly with send-off and effort', () => {
    expect(signed('8 x 50 free @ 1:10 at 200 pace')).toEqual({
      loose: 'race pace: 8 × 50 free, from a push, SCM',
      strict: 'race pace: 8 × 50 free, from a push, SCM; @ 1:10; at 200 pace',
    });
    expect(signed('3 rounds:\n  4 x 100 back kick @ 2:00 with fins + board').strict).toBe(
      'aerobic: 3 × 4 × 100 back kick, from a push, with board + fins, SCM; @ 2:00; with fins + board',
    );
    expect(signed('10 x :30 free kick @ 1:00').loose).toBe('aerobic: 10 × :30 free kick, from a push, SCM');
    expect(signed('4 x 25 free max with pulley 12 kg on go').strict).toBe(
      'power: 4 × 25 free, from a push, with pulley 12 kg, SCM; on go; max, with pulley 12 kg',
    );
  });

  it('says the set as the mean of a best average is kept under', () => {
    const lines = [
      '12 x 50 free @ 1:30 best average',
      '8 x 100 IM order rest :20 from a dive',
      '6 x 50 own pull on go',
      '6 x 25 choice with paddles + buoy @ 1:00',
      '8 x :30 kick @ 1:00',
    ];
    for (const line of lines) {
      const item = parsePractice(`Main\n${line}\n`).practice?.sections[0]?.items[0];
      if (item?.kind !== 'set') throw new Error(line);
      const { set } = signatureOf(item, 'A', ['A', 'B', 'C'], item.counts[0], 'SCM');
      expect(loose(line).endsWith(`: ${set}`), `${loose(line)} / ${set}`).toBe(true);
    }
  });

  it('is another when the set is', () => {
    const [set, ...others] = [
      '8 x 50 free @ 1:10 at 200 pace',
      '7 x 50 free @ 1:10 at 200 pace',
      '8 x 100 free @ 2:10 at 200 pace',
      '8 x 50 fly @ 1:10 at 200 pace',
      '8 x 50 free kick @ 1:10 at 200 pace',
      '8 x 50 free @ 1:10 at 200 pace with fins',
      '2 rounds:\n  4 x 50 free @ 1:10 at 200 pace',
    ].map((lines) => loose(lines));
    expect(others).not.toContain(set);
    expect(new Set(others).size).toBe(others.length);
    expect(loose('8 x 50 free @ 1:10 at 200 pace', { ...pool25, course: 'SCY' })).not.toBe(set);
  });

  it('never has a push and a dive in one: their times do not meet', () => {
    const [push, dive] = ['4 x 50 free @ 2:00 hold 30', '4 x 50 free from a dive @ 2:00 hold 30'].map((line) =>
      loose(line),
    );
    expect([push, dive]).toEqual([
      'race pace: 4 × 50 free, from a push, SCM',
      'race pace: 4 × 50 free, from a dive, SCM',
    ]);
  });

  it('with another send-off or effort is loosely the same, strictly another', () => {
    const [set, later, harder] = [
      signed('8 x 50 free @ 1:10 at 200 pace'),
      signed('8 x 50 free @ 1:20 at 200 pace'),
      signed('8 x 50 free @ 1:10 at 100 pace'),
    ];
    expect(new Set([set?.loose, later?.loose, harder?.loose]).size).toBe(1);
    expect(new Set([set?.strict, later?.strict, harder?.strict]).size).toBe(3);
  });

  it('is as the lane swims it: with its own send-off and count', () => {
    const line = '8/7/6 x 50 free @ 1:00/1:10/1:20 at 200 pace';
    expect(signed(line, pool25, 2).strict).toBe('race pace: 6 × 50 free, from a push, SCM; @ 1:20; at 200 pace');
  });

  it('names the intervals where they change', () => {
    expect(signed('3 x 50 free @ 1:10 dropping :05').strict).toContain('; @ 1:10/1:05/1:00');
  });

  it('has a written rest as it was written, whatever send-offs the targets leave', () => {
    const line = '3 x 50 free rest :20 at 200 pace';
    // 30.0 and 20 s of rest are 50 s; of lane 3 35.0 and 20 s are 55 s.
    const cycles = [0, 2].map((lane) => sheetOf(`Main\n${line}`).lanes[lane]?.steps[0]?.durationMs);
    expect(cycles).toEqual([50_000, 55_000]);
    const [fast, slow] = [signed(line), signed(line, pool25, 2)];
    expect(fast.strict).toBe('race pace: 3 × 50 free, from a push, SCM; rest :20; at 200 pace');
    expect(slow).toEqual(fast);
    expect(signed('3 x 50 free rest :30 at 200 pace')).toMatchObject({ loose: fast.loose });
    expect(signed('3 x 50 free rest :30 at 200 pace').strict).not.toBe(fast.strict);
  });

  it('of a sheet from before the written rest was kept goes by the send-offs that came of it', () => {
    const set = { style: 'aerobic' as const, activity: 'swim' as const, equipment: [], release: 'rest' as const };
    const rep = { step: '2.0.0.1', distance: 50, cycleMs: ms(50_000), stroke: 'free', start: 'push' } as const;
    expect(signatureOfSet({ ...set, detail: '' }, [rep], 'SCM').strict).toBe(
      'aerobic: 1 × 50 free, from a push, SCM; by rest @ :50',
    );
  });
});
