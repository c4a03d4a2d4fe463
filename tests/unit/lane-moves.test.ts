import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  changesBy,
  changesByProposal,
  type Move,
  moveByKey,
  swimmersIn,
  takenBack,
} from '../../client/desk/lane-moves.ts';
import { figureWords, movedWords, timeWords, whyWords } from '../../client/desk/lane-words.ts';
import { lanesQuestionFrom } from '../../client/desk/lanes-question.ts';
import { laneNumber } from '../../shared-types/brand.ts';
import type { Swimmer } from '../../shared-types/squad.ts';
import { atPlace } from '../../shared-types/swimmer-place.ts';
import type { ChangeLanes } from '../../shared-types/wire/lanes.ts';
import { swimmer } from '../fixtures/planning.ts';

const ADA = swimmer('Ada', 1, 'A', [], { order: 1 });
const BO = swimmer('Bo', 1, 'A', [], { order: 2 });
const CY = swimmer('Cy', 1, 'A', [], { order: 3 });
const DOT = swimmer('Dot', 2, 'B', [], { order: 1 });
const { lane: _, order: _order, ...EVE } = swimmer('Eve', 1, 'C', []);
const SQUAD: readonly Swimmer[] = [ADA, BO, CY, DOT, EVE];

function changed(squad: readonly Swimmer[], { places }: ChangeLanes): Swimmer[] {
  const byId = new Map(places.map((place) => [place.swimmer, place]));
  return squad.map((one) => {
    const place = byId.get(one.id);
    return place ? atPlace(one, place) : one;
  });
}

/** `Ada1 Bo2 | Dot1`: the lanes with their orders, then who is in none. */
const drawn = (squad: readonly Swimmer[]): string =>
  [laneNumber(1), laneNumber(2), laneNumber(3), null]
    .map((lane) =>
      swimmersIn(squad, lane)
        .map(({ name, order, group }) => `${name}${order ?? ''}${group ?? ''}`)
        .join(' '),
    )
    .join(' | ');

const lanesBy = (move: Move): string => drawn(changed(SQUAD, changesBy(SQUAD, move)));
const to = (one: Swimmer, lane: number | null, place = 0): Move => ({
  swimmer: one.id,
  lane: lane === null ? null : laneNumber(lane),
  place,
});

describe('a swimmer who is moved', () => {
  test('takes a place in another lane and its pace group, and both lanes are numbered anew', () => {
    expect(lanesBy(to(BO, 2, 0))).toBe('Ada1A Cy2A | Bo1B Dot2B |  | EveC');
    expect(lanesBy(to(BO, 2, 9))).toBe('Ada1A Cy2A | Dot1B Bo2B |  | EveC');
  });

  test('keeps the pace group in a lane that was empty', () => {
    expect(lanesBy(to(BO, 3))).toBe('Ada1A Cy2A | Dot1B | Bo1A | EveC');
  });

  test('goes up and down in the lane', () => {
    expect(lanesBy(to(CY, 1, 0))).toBe('Cy1A Ada2A Bo3A | Dot1B |  | EveC');
    expect(lanesBy(to(ADA, 1, 1))).toBe('Bo1A Ada2A Cy3A | Dot1B |  | EveC');
  });

  test('can leave the lanes, and come to one from none', () => {
    expect(lanesBy(to(ADA, null))).toBe('Bo1A Cy2A | Dot1B |  | AdaA EveC');
    expect(lanesBy(to(EVE, 2, 1))).toBe('Ada1A Bo2A Cy3A | Dot1B Eve2B |  | ');
  });

  test('to where they are already changes nothing', () => {
    expect(changesBy(SQUAD, to(BO, 1, 1))).toEqual({ places: [], instead: [] });
    expect(changesBy(SQUAD, to(EVE, null))).toEqual({ places: [], instead: [] });
  });
});

test('whatever is moved, lanes are numbered from 1 and each move can be taken back exactly', () => {
  const move = fc.record({
    swimmer: fc.constantFrom(...SQUAD.map(({ id }) => id)),
    lane: fc.option(fc.integer({ min: 1, max: 3 }).map(laneNumber)),
    place: fc.nat(6),
  });
  fc.assert(
    fc.property(fc.array(move, { maxLength: 12 }), (moves) => {
      let squad: readonly Swimmer[] = SQUAD;
      for (const next of moves) {
        const changes = changesBy(squad, next);
        const then = changed(squad, changes);
        expect(changed(then, takenBack(changes))).toEqual(squad);
        squad = then;
        for (const lane of [1, 2, 3].map(laneNumber)) {
          const own = swimmersIn(squad, lane);
          expect(own.map(({ order }) => order)).toEqual(own.map((_one, place) => place + 1));
          expect(new Set(own.map(({ group }) => group)).size).toBeLessThanOrEqual(1);
        }
      }
      expect(squad.map(({ id }) => id)).toEqual(SQUAD.map(({ id }) => id));
    }),
    { endOnFailure: true },
  );
});

describe('keys', () => {
  const by = (one: Swimmer, key: string): string => {
    const move = moveByKey(SQUAD, one.id, key, 3);
    return move ? `${move.lane} ${move.place}` : 'nothing';
  };

  test('change the order, the lane, or take out of the lanes', () => {
    expect([by(BO, 'ArrowUp'), by(BO, 'ArrowDown'), by(BO, 'ArrowRight'), by(DOT, 'ArrowLeft')]).toEqual([
      '1 0',
      '1 2',
      '2 1',
      '1 3',
    ]);
    expect([by(BO, '3'), by(BO, '0'), by(BO, 'Delete')]).toEqual(['3 0', '10 0', 'null 0']);
    expect([by(EVE, 'ArrowRight'), by(EVE, 'ArrowLeft')]).toEqual(['1 3', '3 0']);
  });

  test('mean nothing at the edges and where one is already', () => {
    for (const [one, key] of [
      [ADA, 'ArrowUp'],
      [CY, 'ArrowDown'],
      [ADA, 'ArrowLeft'],
      [ADA, '1'],
      [EVE, 'Delete'],
      [EVE, 'ArrowUp'],
      [ADA, 'x'],
    ] as const) {
      expect(by(one, key)).toBe('nothing');
    }
  });
});

test('a proposal moves those who are elsewhere, and gives lanes their pace group', () => {
  const proposed = (one: Swimmer) => ({ ...one, timeMs: 1, basis: '', estimate: null, laneNow: null });
  const lane = (number: number, group: string | null, ...swimmers: Swimmer[]) => ({
    lane: laneNumber(number),
    group,
    meanMs: null,
    spreadMs: null,
    swimmers: swimmers.map(proposed),
  });
  const staying = changesByProposal(SQUAD, { lanes: [lane(1, 'C', EVE), lane(2, 'A')], without: [], sumOfSquares: 0 });
  expect(drawn(changed(SQUAD, staying))).toBe('Eve1C Ada2C Bo3C Cy4C | Dot1A |  | ');
  const lanes = [lane(1, 'A', ADA, BO), lane(2, 'B', DOT, CY), lane(3, null, EVE)];
  const changes = changesByProposal(SQUAD, { lanes, without: [], sumOfSquares: 0 });
  expect(changes.places.map((place) => place.swimmer)).toEqual([CY.id, EVE.id]);
  expect(drawn(changed(SQUAD, changes))).toBe('Ada1A Bo2A | Dot1B Cy2B | Eve1C | ');
});

test('what is moved and proposed is said in words', () => {
  expect(movedWords(SQUAD, to(BO, 2, 9))).toEqual({
    done: 'Bo leaves as number 2 in lane 2.',
    undo: 'Undo: Bo to lane 2',
  });
  expect(movedWords(SQUAD, to(BO, 1, 0)).undo).toBe('Undo: the order in lane 1');
  expect(movedWords(SQUAD, to(BO, null))).toEqual({ done: 'Bo has no lane now.', undo: 'Undo: Bo out of the lanes' });
  const lane = { lane: laneNumber(1), group: 'A', meanMs: 121_240.4, spreadMs: 6100, swimmers: [] };
  expect(figureWords(lane)).toBe('group A, mean 2:01.24, spread 6.10');
  const own = {
    id: ADA.id,
    name: 'Ada',
    timeMs: 121_240,
    basis: '200 free 2:01.24 SCM',
    estimate: null,
    laneNow: laneNumber(2),
  };
  expect(whyWords(own, 1)).toBe('200 free 2:01.24 SCM; now in lane 2');
  expect(whyWords({ ...own, timeMs: null, basis: null }, 2)).toBe('no time, so stays');
  expect([timeWords(own), timeWords({ ...own, estimate: 'converted from LCM' })]).toEqual(['2:01.24', '~2:01.24']);
});

test('the question about lanes is read from its fields, or said to be unreadable', () => {
  const fields = { event: '100 free kick', course: 'SCM', capacity: '5' } as const;
  expect(lanesQuestionFrom(fields)).toMatchObject({ ok: true, question: { capacity: 5, event: { activity: 'kick' } } });
  expect(lanesQuestionFrom({ ...fields, event: '200 crawl' })).toMatchObject({
    problem: { message: '“200 crawl” is not an event.' },
  });
  for (const capacity of ['0', '13', 'six', '']) {
    expect(lanesQuestionFrom({ ...fields, capacity })).toMatchObject({ problem: { fix: 'Write 1 to 12.' } });
  }
});
