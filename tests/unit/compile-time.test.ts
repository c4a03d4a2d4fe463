import { describe, expect, it } from 'vitest';
import { best, outline, plan, pool25, repsOf, sheetOf, stepsOf, swimmer } from '../fixtures/planning.ts';

describe('how time adds up', () => {
  it('n reps at interval I take n · I, the last interval included', () => {
    const sheet = sheetOf('4 x 50 free @ 1:10');
    expect(outline(sheet, 1)).toEqual(['0+70 rep', '70+70 rep', '140+70 rep', '210+70 rep']);
    expect(sheet.lanes[0]?.durationMs).toBe(280_000);
  });

  it('gives each pace group its own send-off and count', () => {
    const sheet = sheetOf('3/2/1 x 100 free @ 1:20/1:30/1:40');
    expect(outline(sheet, 1)).toEqual(['0+80 rep', '80+80 rep', '160+80 rep']);
    expect(outline(sheet, 2)).toEqual(['0+90 rep', '90+90 rep']);
    expect(outline(sheet, 3)).toEqual(['0+100 rep']);
  });

  it('lets lanes run on their own clocks from line to line and join at the next section', () => {
    const sheet = sheetOf(`
      One
      2 x 50 free @ 1:00/1:10/1:20
      1 x 100 free @ 2:00

      Two
      1 x 50 free @ 1:00
    `);
    expect(outline(sheet, 1)).toEqual(['0+60 rep', '60+60 rep', '120+120 rep', '240+40 rest join', '280+60 rep']);
    expect(outline(sheet, 3)).toEqual(['0+80 rep', '80+80 rep', '160+120 rep', '280+60 rep']);
    expect(sheet.joins).toEqual([{ id: '5.0.0.section', atMs: 280_000, lanes: [1, 2, 3], gate: false }]);
  });

  it('rests between rounds after each round but the last, and rounds together start together', () => {
    const sheet = sheetOf(`
      3 rounds together, 1:00 between:
        2 x 50 free @ :50/:55/1:00
    `);
    expect(outline(sheet, 3)).toEqual([
      '0+60 rep',
      '60+60 rep',
      '120+60 rest between',
      '180+60 rep',
      '240+60 rep',
      '300+60 rest between',
      '360+60 rep',
      '420+60 rep',
    ]);
    expect(outline(sheet, 1).slice(0, 5)).toEqual([
      '0+50 rep',
      '50+50 rep',
      '100+60 rest between',
      '160+20 rest join',
      '180+50 rep',
    ]);
  });

  it('nests rounds once and numbers both', () => {
    const sheet = sheetOf(`
      2 rounds:
        3 x (1 x 50 free @ :50 + 1 x 25 back @ :40)
    `);
    const reps = repsOf(sheet, 1);
    expect(reps).toHaveLength(12);
    expect(reps.map(({ outerRound, round }) => `${outerRound}.${round}`).slice(0, 8)).toEqual([
      '1.1',
      '1.1',
      '1.2',
      '1.2',
      '1.3',
      '1.3',
      '2.1',
      '2.1',
    ]);
    expect(new Set(reps.map(({ id }) => id)).size).toBe(12);
    expect(reps[0]?.id).toBe('2.1.1.1');
  });

  it('drops the interval from rep to rep', () => {
    expect(outline(sheetOf('4 x 50 free @ 1:00 dropping :05'), 1)).toEqual([
      '0+60 rep',
      '60+55 rep',
      '115+50 rep',
      '165+45 rep',
    ]);
  });

  it('a cycle by rest is the slowest target of the lane plus the rest, up to the next five seconds', () => {
    // Even pace of 2:00 for 200 is 30.00 per 50; + :20 = 50.0 → 50; of 2:10, 32.5 + 20 = 52.5 → 55; of 2:20, 35 + 20 = 55.
    const sheet = sheetOf('2 x 50 free rest :20 at 200 pace');
    expect(outline(sheet, 1)).toEqual(['0+50 rep', '50+50 rep']);
    expect(outline(sheet, 2)).toEqual(['0+55 rep', '55+55 rep']);
    expect(outline(sheet, 3)).toEqual(['0+55 rep', '55+55 rep']);
  });

  it('a cycle by rest without a target waits for go in that lane only', () => {
    const squad = {
      swimmers: [swimmer('Ada', 1, 'A', [best('200 free', '2:00.00')]), swimmer('Bo', 2, 'A', [])],
    };
    const { sheet, messages } = plan('2 x 50 free rest :20 at 200 pace', squad);
    expect(messages.map(({ code, lane }) => `${code} ${lane ?? ''}`)).toContain('needs-target 2');
    expect(sheet && outline(sheet, 1)).toEqual(['0+50 rep', '50+50 rep']);
    expect(sheet && stepsOf(sheet, 2).map(({ kind }) => kind)).toEqual(['gate', 'rep', 'gate', 'rep', 'gate']);
    expect(sheet?.joins.map(({ lanes }) => lanes)).toEqual([[2], [2], [2]]);
  });

  it('a rep before a gate lasts until the last swimmer of the slowest lane should be back', () => {
    // Easy speed is 65 % of 200-pace speed: 100 easy takes 60/0.65 = 92.308, 65/0.65 = 100, 70/0.65 = 107.692 s.
    const sheet = sheetOf(`
      100 free easy
      2 x 50 free @ 1:00
    `);
    for (const lane of [1, 2, 3]) {
      expect(outline(sheet, lane)).toEqual(['0+107.692 rep', '107.692+0 gate', '107.692+60 rep', '167.692+60 rep']);
    }
  });

  it('counts the gaps of the swimmers behind the leader into the time before a gate', () => {
    const times = [best('200 free', '2:00.00')];
    const squad = { swimmers: [1, 2, 3].map((place) => swimmer(`S${place}`, 1, 'A', times)) };
    expect(outline(sheetOf('100 free easy', squad), 1)[0]).toBe('0+102.308 rep');
  });

  it('what is unknown before a gate counts 0 and is reported', () => {
    const { sheet, messages } = plan('100 free smooth');
    expect(sheet && outline(sheet, 1)).toEqual(['0+0 rep', '0+0 gate']);
    expect(messages.map(({ code }) => code)).toEqual(['time-unknown']);
  });

  it('gates that touch are one', () => {
    const sheet = sheetOf(`
      100 free easy
      wait
      2 x 25 free on go max
      wait
    `);
    expect(stepsOf(sheet, 1).map(({ kind }) => kind)).toEqual(['rep', 'gate', 'rep', 'gate', 'rep', 'gate']);
  });

  it('a written rest after a set on go needs no second go before it', () => {
    const sheet = sheetOf(`
      2 rounds, 3:00 between:
        2 x 25 free on go max
    `);
    const kinds = stepsOf(sheet, 1).map((step) => (step.kind === 'rest' ? step.reason : step.kind));
    expect(kinds).toEqual(['gate', 'rep', 'gate', 'rep', 'between', 'gate', 'rep', 'gate', 'rep', 'gate']);
  });

  it('runs neighbouring group blocks side by side between two joins, gates for their own lanes only', () => {
    const sheet = sheetOf(`
      1 x 50 free @ 1:00/1:10/1:20
      A:
        2 x 25 fly on go
      B, C:
        2 x 50 back @ 1:10
      1 x 50 free @ 1:00
    `);
    expect(outline(sheet, 1)).toEqual([
      '0+60 rep',
      '60+20 rest join',
      '80+0 gate',
      '80+0 rep',
      '80+0 gate',
      '80+0 rep',
      '80+0 gate',
      '80+140 rest join',
      '220+60 rep',
    ]);
    expect(outline(sheet, 2)).toEqual(['0+70 rep', '70+10 rest join', '80+70 rep', '150+70 rep', '220+60 rep']);
    expect(sheet.joins.filter(({ gate }) => gate).map(({ lanes }) => lanes)).toEqual([[1], [1], [1]]);
  });

  it('a lane that no block names waits', () => {
    const sheet = sheetOf(`
      lanes 1-2:
        2 x 50 free @ 1:00
      1 x 50 free @ 1:00
    `);
    expect(outline(sheet, 3)).toEqual(['0+120 rest join', '120+60 rep']);
  });

  it('releases heats one by one: the k-th swimmers of all lanes', () => {
    const squad = { swimmers: [swimmer('A1', 1, 'A', []), swimmer('A2', 1, 'A', []), swimmer('B1', 2, 'A', [])] };
    const sheet = sheetOf('2 x 25 free dive on go by heat max', squad);
    expect(repsOf(sheet, 1).map(({ rep, heat, targets }) => `${rep}.${heat} ${targets.length}`)).toEqual([
      '1.1 1',
      '1.2 1',
      '2.1 1',
      '2.2 1',
    ]);
    expect(repsOf(sheet, 2).map(({ rep, heat }) => `${rep}.${heat}`)).toEqual(['1.1', '2.1']);
    expect(sheet.joins.map(({ lanes }) => lanes.length)).toEqual([2, 2, 2, 2, 2]);
    expect(sheet.lanes[0]?.distance).toBe(50);
  });

  it('counts finish-together so that groups end as near together as whole reps allow', () => {
    // 10 · 60 s = 600 s: at 1:10 8.57 → 9; at 1:20 7.5 → 7 (half to fewer).
    const sheet = sheetOf('10 x 50 free @ 1:00/1:10/1:20 finish together');
    expect([1, 2, 3].map((lane) => repsOf(sheet, lane).length)).toEqual([10, 9, 7]);
  });

  it('keeps the parity of finish-together counts where reps end at the other wall', () => {
    const sheet = sheetOf('10 x 25 free @ :30/:35/:40 finish together');
    // 300 s: at :35 8.57 → 8 (even); at :40 7.5 → 8 (even).
    expect([1, 2, 3].map((lane) => repsOf(sheet, lane).length)).toEqual([10, 8, 8]);
  });
});

describe('ends of the pool', () => {
  it('a rep of an odd number of lengths ends at the other wall and the next starts there', () => {
    const ends = repsOf(sheetOf('3 x 25 free @ :40'), 1).map(({ fromEnd, toEnd }) => `${fromEnd}-${toEnd}`);
    expect(ends).toEqual(['near-far', 'far-near', 'near-far']);
  });

  it('from a dive every rep starts at the blocks', () => {
    const ends = repsOf(sheetOf('2 x 25 free dive @ 3:00\n1 x 50 free @ 1:00'), 1).map(({ fromEnd }) => fromEnd);
    expect(ends).toEqual(['near', 'near', 'near']);
  });

  it('anchored reps start where the set starts', () => {
    const ends = repsOf(sheetOf('1 x 25 free @ 1:00\n2 x 25 free with cord @ 1:00'), 1).map(({ fromEnd }) => fromEnd);
    expect(ends).toEqual(['near', 'far', 'far']);
  });
});

describe('what is not a practice for this squad and pool', () => {
  const codes = (text: string, pool = {}): string[] =>
    plan(text, undefined, { ...pool25, ...pool })
      .messages.filter(({ severity }) => severity !== 'info')
      .map(({ line, code, text: said }) => `${line} ${code}: ${said}`);

  it('distances that are no whole lengths', () => {
    expect(codes('2 x 60 free @ 1:00')).toEqual(['1 part-lengths: 60 is not a whole number of 25 m lengths']);
    expect(codes('2 x 25 free @ 1:00', { course: 'LCM' })).toEqual([
      '1 mid-pool: 25 ends in the middle of the pool: say where swimmers wait',
    ]);
  });

  it('fewer send-offs than pace groups', () => {
    expect(codes('2 x 50 free @ 1:00/1:10')).toEqual(['1 group-count: two send-offs for three pace groups']);
  });

  it('more send-offs than pace groups go by name', () => {
    const sheet = sheetOf(`
      B, C:
        1 x 50 free @ 1:00/1:10/1:20
    `);
    expect(outline(sheet, 2)).toEqual(['0+70 rep', '70+10 rest join']);
    expect(outline(sheet, 3)).toEqual(['0+80 rep']);
  });

  it('too many reps', () => {
    expect(codes('40 rounds:\n  30 x 25 free @ :30')).toEqual([
      '2 too-much: 1,020 reps in lane 1; at most 1,000 reps a lane',
    ]);
  });

  it('finish together without send-offs', () => {
    expect(codes('4 x 50 free finish together')[0]).toContain('finish together needs send-offs');
  });

  it('swimmers of two pace groups in one lane', () => {
    const squad = { swimmers: [swimmer('A', 1, 'A', []), swimmer('B', 1, 'B', [])] };
    expect(plan('50 free @ 1:00', squad).messages.map(({ code }) => code)).toEqual(['group-count']);
  });

  it('more waits in nested rounds than anybody could swim, at once', () => {
    expect(codes('1000 rounds:\n  1000 rounds:\n    wait')[0]).toContain(
      'too-much: more than 40,000 rests, waits and meetings of lanes in one practice',
    );
    expect(codes('1000 rounds:\n  1000 rounds:\n    rest :01')).toHaveLength(1);
  });

  it('a send-off that drops to nothing, group by group', () => {
    expect(codes('4 x 50 free @ :20/:40/:40 dropping :10')).toEqual([
      '1 unreadable: the send-off of pace group A has dropped to nothing before rep 4',
    ]);
    expect(codes('10/2/2 x 50 free @ 1:30/:40/:40 dropping :05')).toEqual([]);
  });

  it('finish together with what it cannot count with', () => {
    expect(codes('4 x 50 free @ 1:00 finish together dropping :05')[0]).toContain('dropping');
    expect(codes('4/3/2 x 50 free @ 1:00 finish together')[0]).toContain('itself');
  });

  it('is said all at once, also where other lines cannot be read', () => {
    expect(
      codes('4 x 30 free @ 1:00\n8 x 50 free @ 1:00/1:10\n8 x 100 free @ 90').map((said) => said.split(':')[0]),
    ).toEqual(['1 part-lengths', '2 group-count', '3 unreadable']);
  });
});

describe('timed reps', () => {
  it('rest after the time written, and are told when they do not fit', () => {
    expect(outline(sheetOf('2 x :30 free kick rest :30'), 1)).toEqual(['0+60 rep', '60+60 rep']);
    expect(plan('4 x :30 free kick @ :20').messages.map(({ code }) => code)).toContain('cannot-make-it');
  });
});
