import { describe, expect, it } from 'vitest';
import { type Message, mention } from '../../shared-types/message.ts';
import type { Squad, Swimmer } from '../../shared-types/squad.ts';
import { best, plan, swimmer } from '../fixtures/planning.ts';

/** A lane of swimmers with these 200 free times, in leaving order. */
const lane = (number: number, group: string, ...times: (string | null)[]): Swimmer[] =>
  times.map((time, place) =>
    swimmer(`S${number}-${place + 1}`, number, group, time === null ? [] : [best('200 free', time)]),
  );

const squadOf = (...lanes: Swimmer[][]): Squad => ({ swimmers: lanes.flat() });
const nobodyTimed = (count: number): null[] => Array.from({ length: count }, () => null);

const TRAFFIC = ['catches', 'lane-full', 'send-overflow', 'dive-gap', 'cannot-make-it'];
const traffic = (text: string, squad: Squad): Message[] =>
  plan(text, squad).messages.filter(({ code }) => TRAFFIC.includes(code));
const fixes = (text: string, squad: Squad): (string | undefined)[] => traffic(text, squad).map(({ fix }) => fix);

describe('catches', () => {
  const slowFirst = lane(3, 'A', '2:20.00', '2:08.00');
  const [slow, fast] = slowFirst.map(({ id }) => mention(id));

  it('says who catches whom, where and by how much, and the first cure that passes', () => {
    // 100 of 2:20 is 70.0, of 2:08 64.0; 5 + 64 − 70 = −1.
    expect(traffic('8 x 100 free @ 1:40 at 200 pace', squadOf(slowFirst))).toEqual([
      {
        severity: 'warning',
        code: 'catches',
        line: 1,
        column: 1,
        lane: 3,
        text: `${fast} catches ${slow}: 1.0 s ahead at the end, leaving :05 apart`,
        fix: 'order lane 3 by speed',
        cure: { kind: 'order', lane: 3, swimmers: slowFirst.map(({ id }) => id).reverse() },
      },
    ]);
    expect(traffic('8 x 100 free @ 1:40 :10 apart at 200 pace', squadOf(slowFirst))).toEqual([]);
  });

  it('looks at the end of each part', () => {
    const said = traffic('8 x 100 free @ 2:00 (75 at 200 pace, 25 hold 40)', squadOf(slowFirst));
    // 75 of 2:20 is 52.5, of 2:08 48.0; 5 + 48 − 52.5 = 0.5, and the same at the end.
    expect(said[0]?.text).toContain('0.5 s behind at 75 m');
  });

  it('knows an all-out rep by the swimmer’s best', () => {
    const two = ['1:10.00', '1:06.00'].map((time, place) => swimmer(`M${place}`, 1, 'A', [best('100 free', time)]));
    expect(traffic('4 x 100 free max @ 5:00', squadOf(two)).map(({ code }) => code)).toEqual(['catches']);
  });

  it('says the worst of a set once, whatever differs from rep to rep or from round to round', () => {
    // At 50 %, 100 of 2:20 takes 140.0 and of 2:08 128.0: 7 s ahead. At 100 % it is 1 s.
    for (const text of [
      '4 x 100 free @ 3:00 from 50% to 100% of 200 pace by rep',
      '4 x 100 free @ 3:00 from 100% to 50% of 200 pace by rep',
      '4 x 100 free @ 3:00 odds easy evens at 50% of 200 pace',
      '3 rounds:\n  2 x 100 free @ 3:00 from 100% to 50% of 200 pace by round',
      '2 rounds:\n  2 rounds:\n    2 x 100 free @ 3:00 at 50% of 200 pace',
    ]) {
      const said = traffic(text, squadOf(slowFirst));
      expect(said.map(({ code }) => code)).toEqual(['catches']);
      expect(said[0]?.text).toContain('7.0 s ahead');
    }
  });

  it('is silent about swimmers whose time nobody knows, heats and timed reps', () => {
    expect(traffic('8 x 100 free @ 1:40 smooth', squadOf(slowFirst))).toEqual([]);
    expect(traffic('4 x 100 free from a dive at 200 pace on go by heat', squadOf(slowFirst))).toEqual([]);
    expect(traffic('4 x :30 free @ 1:00', squadOf(slowFirst))).toEqual([]);
  });

  it('sees one rep that the coach ends', () => {
    expect(traffic('400 free easy', squadOf(slowFirst)).map(({ code }) => code)).toEqual(['catches']);
  });
});

describe('a full lane', () => {
  const nine = lane(2, 'A', ...Array.from({ length: 9 }, () => '2:30.00'));

  it('says how many have room, and where one could go', () => {
    const squad = squadOf(nine, lane(4, 'A', '2:20.00'));
    expect(traffic('8 x 100 free @ 1:40 hold 1:26', squad)).toMatchObject([
      {
        code: 'lane-full',
        lane: 2,
        text: 'lane 2 has room for 8 swimmers :05 apart, not 9: the leader is back from two lengths in 43.0',
        fix: 'at most 8 in lane 2, those who leave first, or move the ninth swimmer to lane 4 and order that lane by speed',
      },
    ]);
  });

  it('is none on fifties', () => {
    expect(traffic('8 x 50 free @ 1:40 hold 43', squadOf(nine))).toEqual([]);
  });
});

describe('send-offs too short for the lane', () => {
  it('by the least of dropping send-offs', () => {
    const squad = squadOf(lane(1, 'A', ...nobodyTimed(8)));
    expect(traffic('4 x 25 free @ :45 dropping :05', squad)).toMatchObject([
      { code: 'send-overflow', text: '8 swimmers :05 apart need :40, the send-off is :30' },
    ]);
  });

  it('a narrower gap where one is enough, else fewer', () => {
    const squad = squadOf(lane(1, 'A', ...nobodyTimed(4)));
    expect(fixes('4 x 25 free @ :30 :10 apart', squad)).toEqual(['write :05 apart']);
    expect(fixes('4 x 25 free @ :15', squad)).toEqual(['at most 3 in lane 1, those who leave first']);
  });

  it('after a rest, too', () => {
    const squad = squadOf(lane(1, 'A', ...nobodyTimed(6)));
    expect(traffic('4 x 25 free hold 15 rest :05', squad)).toMatchObject([
      { text: '6 swimmers :05 apart need :30, the send-off is :20' },
    ]);
  });

  it('not for one alone', () => {
    expect(traffic('4 x 25 free @ :30 :40 apart', squadOf(lane(1, 'A', null)))).toEqual([]);
  });
});

describe('dives too close', () => {
  const squad = squadOf(...[1, 2, 3].map((number) => lane(number, 'A', null, null)));

  it('are said once for all lanes', () => {
    const said = traffic('4 x 50 free from a dive max @ 4:00', squad);
    expect(said).toMatchObject([
      {
        code: 'dive-gap',
        text: 'swimmers of lanes 1, 2 and 3 leave the blocks less than the usual :15 apart',
        fix: 'write :15 apart, or on go by heat',
      },
    ]);
    expect(said[0]).not.toHaveProperty('lane');
  });

  it('name the lane when it is one', () => {
    const one = squadOf(lane(1, 'A', null), lane(2, 'A', null, null));
    expect(traffic('4 x 50 free from a dive max @ 4:00', one)).toMatchObject([{ lane: 2 }]);
  });

  it('only heats where the send-off has no room for :15', () => {
    expect(fixes('4 x 50 free from a dive max @ :20', squad)).toEqual(['write on go by heat']);
  });
});

describe('send-offs that cannot be made', () => {
  const squad = squadOf(lane(1, 'A', '2:00.00'), lane(2, 'B', '2:20.00'), lane(3, 'C', '2:40.00'), lane(4, 'C', null));

  it('are cured for the groups that need it, the others kept as written', () => {
    // 100 at 200 pace: 60.0, 70.0, 80.0.
    const cure = 'write @ 1:20/1:15/1:25';
    expect(fixes('8 x 100 free @ 1:20/1:10/1:15 at 200 pace', squad)).toEqual([cure, cure]);
    expect(fixes('8 x 100 free @ 1:15 at 200 pace', squad)).toEqual(['write @ 1:15/1:15/1:25']);
    expect(fixes('8 x 100 free @ :55 hold 1:20', squad)).toEqual(Array(4).fill('write @ 1:25'));
  });

  it('and are gone with the cure', () => {
    expect(traffic('8 x 100 free @ 1:20/1:15/1:25 at 200 pace', squad)).toEqual([]);
  });

  it('have no such cure when they drop', () => {
    expect(fixes('4 x 100 free @ 1:20 dropping :05 at 200 pace', squadOf(lane(1, 'B', '2:20.00')))).toEqual([
      undefined,
    ]);
  });

  it('are suggested for timed reps as well', () => {
    expect(fixes('4 x :30 free kick @ :20', squadOf(lane(1, 'A', null)))).toEqual(['write @ :35']);
  });
});

it('no cure mentions a swimmer, so that it needs no names', () => {
  const squad = squadOf(
    lane(1, 'A', '2:20.00', '2:08.00', null, '2:00.00'),
    lane(2, 'A', ...Array.from({ length: 10 }, () => '2:30.00')),
  );
  const said = traffic('8 x 200 free @ 2:00 at 200 pace\n4 x 100 free dive at 200 pace on go', squad);
  expect(said.length).toBeGreaterThan(3);
  for (const { fix } of said) expect(fix ?? '').not.toContain('{');
});
