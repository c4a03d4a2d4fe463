import { describe, expect, it } from 'vitest';
import { proposeFromSquad, type SquadProposal } from '../../server/planning/lanes/propose-from-squad.ts';
import { type LaneOptions, type Proposal, proposeLanes } from '../../server/planning/lanes/propose-lanes.ts';
import { suggestGroups } from '../../server/planning/lanes/suggest-groups.ts';
import { type LaneNumber, laneNumber, type SwimmerId, swimmerIdSchema } from '../../shared-types/brand.ts';
import type { Event } from '../../shared-types/squad.ts';
import { best, pool25, swimmer } from '../fixtures/planning.ts';

/** Ids a, b, c … as 000…a, so that a lane can be written `a c`. */
const idOf = (letter: string): SwimmerId => swimmerIdSchema.parse(letter.padStart(32, '0'));
const letterOf = (id: SwimmerId): string => id.replace(/^0+/, '');

/** Times in seconds by letter. */
type Times = Readonly<Record<string, number>>;
type Ask = Partial<Pick<LaneOptions, 'lanes' | 'capacity' | 'distance'>> & { readonly keep?: Times };

function ask(times: Times, { keep = {}, ...more }: Ask): ReturnType<typeof proposeLanes> {
  const swimmers = Object.entries(times).map(([letter, seconds]) => ({ id: idOf(letter), paceMs: seconds * 1000 }));
  const fixed = new Map<SwimmerId, LaneNumber>();
  for (const [letter, lane] of Object.entries(keep)) fixed.set(idOf(letter), laneNumber(lane));
  return proposeLanes(swimmers, { lanes: 2, capacity: 6, distance: 100, ...more, fixed });
}

function proposed(times: Times, more: Ask = {}): Proposal {
  const proposal = ask(times, more);
  if (proposal.kind !== 'proposal') throw new Error(proposal.text);
  return proposal;
}

/** Who is in each lane: `['a b', 'c', '']`. */
const lanesOf = ({ lanes }: Proposal): string[] =>
  lanes.map((lane) => lane.swimmers.map(({ id }) => letterOf(id)).join(' '));

describe('lanes by speed', () => {
  it('put those of like speed together, lane 1 the fastest, whatever order they are given in', () => {
    const proposal = proposed({ d: 113, a: 100, c: 110, b: 102 });
    expect(lanesOf(proposal)).toEqual(['a b', 'c d']);
    // By hand, in s²: 2 · 1² and 2 · 1.5².
    expect(proposal.lanes.map(({ sumOfSquares }) => sumOfSquares)).toEqual([2e6, 4.5e6]);
    expect(proposal.sumOfSquares).toBe(6.5e6);
    expect(proposal.lanes.map(({ meanMs, spreadMs }) => [meanMs, spreadMs])).toEqual([
      [101_000, 2000],
      [111_500, 3000],
    ]);
  });

  it('take no more swimmers than a lane holds', () => {
    const times = { a: 100, b: 101, c: 102, d: 120 };
    expect(lanesOf(proposed(times))).toEqual(['a b c', 'd']);
    const tight = proposed(times, { capacity: 2 });
    expect(lanesOf(tight)).toEqual(['a b', 'c d']);
    // By hand: 2 · 0.5² + 2 · 9².
    expect(tight.sumOfSquares).toBe(162.5e6);
  });

  it('leave the last lanes empty when there are fewer swimmers than lanes', () => {
    const { lanes } = proposed({ a: 60, b: 61 }, { lanes: 4 });
    expect(lanes.map(({ swimmers }) => swimmers.length)).toEqual([1, 1, 0, 0]);
    expect(lanes[2]).toEqual({ lane: 3, group: null, meanMs: null, spreadMs: null, sumOfSquares: 0, swimmers: [] });
  });

  it('are all empty when nobody is there', () => {
    expect(lanesOf(proposed({}))).toEqual(['', '']);
  });

  it('share out equal swimmers evenly, more to the faster lanes, in the order given', () => {
    expect(lanesOf(proposed({ d: 60, c: 60, b: 60, a: 60 }, { lanes: 3 }))).toEqual(['d c', 'b', 'a']);
  });

  it('of two equally good splits take the one with more in the faster lane', () => {
    // {60, 62} {64} and {60} {62, 64}: both 2 s².
    expect(lanesOf(proposed({ a: 60, b: 62, c: 64 }))).toEqual(['a b', 'c']);
  });
});

describe('swimmers whose lane is settled', () => {
  const times = { a: 60, b: 62, c: 64, d: 66 };

  it('stay there and count in its mean', () => {
    const proposal = proposed(times, { keep: { d: 1 } });
    // By hand, in s², with 0, 1, 2 and 3 free swimmers beside d: 8, 20, 18.7, 20.
    expect(lanesOf(proposal)).toEqual(['d', 'a b c']);
    expect(proposal.sumOfSquares).toBe(8e6);
    expect(proposal.lanes.map(({ meanMs }) => meanMs)).toEqual([66_000, 62_000]);
  });

  it('take a place in it', () => {
    const proposal = proposed(times, { keep: { d: 1 }, capacity: 2 });
    expect(lanesOf(proposal)).toEqual(['a d', 'b c']);
    expect(proposal.lanes[0]?.swimmers.map(({ fixed }) => fixed)).toEqual([false, true]);
    expect(proposal.sumOfSquares).toBe(20e6);
  });

  it('without a time take a place, stand last, and count in no mean', () => {
    const proposal = proposed({ a: 60, b: 61, c: 70 }, { keep: { f: 1 }, capacity: 2 });
    expect(lanesOf(proposal)).toEqual(['a f', 'b c']);
    expect(proposal.lanes[0]).toMatchObject({ meanMs: 60_000, spreadMs: 0, sumOfSquares: 0 });
    expect(proposal.lanes[0]?.swimmers[1]).toEqual({ id: idOf('f'), paceMs: null, fixed: true });
  });

  it('alone and without a time give their lane no mean and no group', () => {
    const { lanes } = proposed({ a: 60 }, { keep: { f: 2 } });
    expect(lanes[1]).toMatchObject({ lane: 2, group: null, meanMs: null, spreadMs: null });
  });
});

describe('what cannot be', () => {
  const seven = { a: 60, b: 61, c: 62, d: 63, e: 64, f: 65, aa: 66 };

  it('more swimmers than places', () => {
    expect(ask(seven, { capacity: 3 })).toEqual({
      kind: 'too-many',
      text: '7 swimmers do not fit into 2 lanes of 3',
      fix: 'take 3 lanes or allow 4 swimmers a lane',
    });
    expect(ask(seven, { lanes: 1 })).toMatchObject({
      kind: 'too-many',
      text: '7 swimmers do not fit into 1 lane of 6',
      fix: 'take 2 lanes or allow 7 swimmers a lane',
    });
  });

  it('more swimmers than any pool has places', () => {
    const many = Array.from({ length: 145 }, (_, n) => ({
      id: swimmerIdSchema.parse(n.toString(16).padStart(32, '0')),
      paceMs: 60_000 + n,
    }));
    expect(proposeLanes(many, { lanes: 12, capacity: 12, distance: 100 })).toMatchObject({
      kind: 'too-many',
      fix: 'leave out 1 or swim in two shifts',
    });
  });

  it('more swimmers settled in a lane than it takes', () => {
    expect(ask(seven, { lanes: 6, capacity: 2, keep: { a: 2, b: 2, ff: 2 } })).toEqual({
      kind: 'lane-too-full',
      text: 'lane 2 has 3 swimmers fixed in it; a lane takes 2',
      fix: 'fix at most 2 in lane 2, or allow 3 swimmers a lane',
    });
  });

  it('a swimmer settled in a lane that is not there', () => {
    expect(ask(seven, { keep: { a: 3 } })).toEqual({
      kind: 'no-such-lane',
      text: 'a swimmer is fixed in lane 3; there are 2 lanes',
      fix: 'take lane 1 to 2, or at least 3 lanes',
    });
  });
});

describe('suggested pace groups', () => {
  const groupsOf = (seconds: readonly (number | null)[], distance = 100): string => {
    const means = seconds.map((mean, place) => ({
      lane: laneNumber(place + 1),
      meanMs: mean === null ? null : mean * 1000,
    }));
    const groups = suggestGroups(means, distance);
    return means.map(({ lane }) => groups.get(lane) ?? '-').join('');
  };

  it('reach 5 s per 100 from their first lane, not from lane to lane', () => {
    expect(groupsOf([60, 64, 65, 66, 71, 71.001])).toBe('AAABBC');
  });

  it('are per 100, whatever the distance of the event', () => {
    expect(groupsOf([120, 130, 130.002], 200)).toBe('AAB');
    expect(groupsOf([30, 32.5, 32.501], 50)).toBe('AAB');
  });

  it('begin with the fastest lane, wherever it is, and leave out lanes without a mean', () => {
    expect(groupsOf([70, null, 60, 64])).toBe('B-AA');
  });

  it('use one letter a lane at most', () => {
    expect(groupsOf(Array.from({ length: 12 }, (_, place) => 60 + 6 * place))).toBe('ABCDEFGHIJKL');
  });

  it('stand in the proposal', () => {
    // d is kept in lane 1 and slower than lane 2: 1:02 and 1:06, 2:04 and 2:12 per 100 of a 50.
    const groups = (distance: number) =>
      proposed({ a: 60, b: 62, c: 64, d: 66 }, { keep: { d: 1 }, distance }).lanes.map(({ group }) => group);
    expect(groups(100)).toEqual(['A', 'A']);
    expect(groups(50)).toEqual(['B', 'A']);
  });
});

describe('lanes of a squad', () => {
  const event: Event = { distance: 200, stroke: 'free', activity: 'swim' };
  const ada = swimmer('Ada Vance', 2, 'A', [
    best('200 free', '2:00.00'),
    { ...best('200 free', '1:58.00'), kind: 'goal' },
  ]);
  const bela = swimmer('Bela Sorn', 1, 'A', [{ ...best('200 free', '1:50.00'), course: 'SCY' }], { category: 'women' });
  const cato = swimmer('Cato Lind', 1, 'B', [best('200 fly', '2:20.00')]);
  const squad = { swimmers: [cato, bela, ada] };

  function ofSquad(fixed = new Map<SwimmerId, LaneNumber>(), pool = pool25): SquadProposal {
    const proposal = proposeFromSquad(squad, event, { ...pool, lanes: 2 }, { capacity: 2, fixed });
    if (proposal.kind !== 'proposal') throw new Error(proposal.text);
    return proposal;
  }
  const namesIn = ({ lanes }: SquadProposal): string[][] =>
    lanes.map((lane) => lane.swimmers.map(({ swimmer: { name } }) => name));

  it('go by each time for the event and say where it comes from', () => {
    const proposal = ofSquad();
    expect(namesIn(proposal)).toEqual([['Ada Vance'], ['Bela Sorn']]);
    expect(proposal.lanes[0]?.swimmers[0]?.time).toMatchObject({
      timeMs: 118_000,
      basis: '200 free 1:58.00 SCM (goal)',
      estimate: null,
    });
    expect(proposal.lanes[1]?.swimmers[0]?.time).toMatchObject({ estimate: 'converted from SCY' });
    expect(proposal.lanes.map(({ group }) => group)).toEqual(['A', 'A']);
  });

  it('take the kind of time the pool prefers', () => {
    const proposal = ofSquad(undefined, { ...pool25, prefer: 'best' });
    expect(proposal.lanes.flatMap(({ swimmers }) => swimmers.map(({ time }) => time?.timeMs))).toContain(120_000);
  });

  it('list apart who has no time, with what is missing', () => {
    expect(ofSquad().without).toEqual([{ swimmer: cato, missing: 'no 200 free time (SCM)' }]);
  });

  it('keep a swimmer without a time in a settled lane', () => {
    const proposal = ofSquad(new Map([[cato.id, laneNumber(1)]]));
    expect(namesIn(proposal)).toEqual([['Ada Vance', 'Cato Lind'], ['Bela Sorn']]);
    expect(proposal.lanes[0]).toMatchObject({ meanMs: 118_000, spreadMs: 0 });
    expect(proposal.lanes[0]?.swimmers[1]).toEqual({ swimmer: cato, time: null, fixed: true });
    expect(proposal.without).toHaveLength(1);
  });

  it('pass on why there can be none', () => {
    const proposal = proposeFromSquad(squad, event, { ...pool25, lanes: 1 }, { capacity: 1 });
    expect(proposal).toMatchObject({ kind: 'too-many', text: '2 swimmers do not fit into 1 lane of 1' });
  });
});
