import { describe, expect, test } from 'vitest';
import { offerFor } from '../../client/deck/actions.ts';
import { cautionAt } from '../../client/deck/caution-words.ts';
import { type HeatPad, heatPad, heatsWords, releaseOf } from '../../client/deck/heat-words.ts';
import { heatsOf, laneHeatsAt } from '../../client/deck/heats.ts';
import { boardAt } from '../../shared-types/board/board.ts';
import { instant, laneNumber } from '../../shared-types/brand.ts';
import { type Press, started, TOP } from '../fixtures/coach.ts';
import { DeckInMemory, labelsOf, TimesInMemory } from '../fixtures/deck-times.ts';
import { sheetOf as plannedSheetOf } from '../fixtures/planning.ts';
import { type Line, sheetOf } from '../fixtures/sheets.ts';

const FORM = { lanes: 2, swimmers: 2 } as const;
const LABELS = labelsOf(FORM);

const heat = (heat: number, rep: number, lanes: readonly number[] = [1, 2]): Line => ({
  reps: 1,
  every: 20,
  lanes,
  swim: { distance: 25, heat, heats: 2, rep, of: 2 },
});

/** Twice 25 all out in heats: in lane 2 only the first swims. Then another set. */
const SHEET = sheetOf(
  FORM,
  { meet: 'gate' },
  heat(1, 1),
  { meet: 'gate' },
  heat(2, 1, [1]),
  { meet: 'gate' },
  heat(1, 2),
  { meet: 'gate' },
  heat(2, 2, [1]),
  { meet: 'gate' },
  { reps: 1, every: 60, swim: { set: 1 } },
);

type At<T> = readonly [T, seconds: number];

const RELEASE = (gate: number): Press => ({ kind: 'go', gate, when: 'now' });

/** The deck at an instant, after what was pressed and taken up to then. The first heat leaves at 5 s. */
function deckAt(seconds: number, presses: readonly At<Press>[] = [], taken: readonly At<number>[] = [], sheet = SHEET) {
  const coach = started(sheet);
  for (const [press, at] of presses) coach.press(press, at);
  const server = new TimesInMemory(coach);
  const deck = new DeckInMemory(server, LABELS);
  for (const [lane, at] of taken) deck.times.take(laneNumber(lane), deck.at(at));
  const at = deck.at(seconds);
  const known = deck.times.known(at);
  if (!known) throw new Error('nothing is on the wall');
  const lanes = laneHeatsAt(known.practice, at);
  const heats = heatsOf(lanes);
  const board = boardAt(sheet, coach.run, at, { labels: LABELS, face: { timezone: 'UTC', trimMs: 0 } });
  const sinceGoMs = at - (coach.run.wentAt ?? Number.NEGATIVE_INFINITY);
  const releases = heats.flatMap((one) => releaseOf(one, sinceGoMs) ?? []);
  const pad = (lane: number): HeatPad | null => {
    const own = lanes.find((one) => one.lane === lane);
    const together = heats.find((one) => one.lanes.includes(laneNumber(lane)));
    return own && together ? heatPad(known, own, together, at) : null;
  };
  return {
    says: heats.map((one) => heatsWords(known, one, at).what),
    offer: offerFor(board, sheet, releases),
    pad,
    taken: () => server.taken(LABELS),
  };
}

describe('heats on the deck', () => {
  test('before they leave, the pads say who goes, and nobody can be timed', () => {
    const { says, offer, pad } = deckAt(3);
    expect(says).toEqual(['Heat 1 of 2 about to go']);
    expect(offer.main).toMatchObject([{ press: 'go', gate: 1, word: 'Release heat 2', waits: true }]);
    expect(pad(1)).toEqual({ swims: null, came: null, goes: 'Ines1', chief: 'goes' });
    expect(pad(2)).toMatchObject({ swims: null, goes: 'Ines2' });
  });

  test('in the water each lane’s pad is its one swimmer’s; no target is made up, and the next heat can be let go', () => {
    const { says, offer, pad } = deckAt(10);
    expect(says).toEqual(['Heat 1 of 2 in the water']);
    expect(pad(1)).toMatchObject({ swims: { name: 'Ines1', target: '', before: '' }, goes: 'Marek1', chief: 'swims' });
    expect(pad(2)).toMatchObject({ swims: { name: 'Ines2' }, goes: '' });
    expect(offer).toMatchObject({ main: [{ word: 'Release heat 2' }], hold: true, nextToo: false });
    expect(offer.main[0]).not.toHaveProperty('waits');
  });

  test('[CMD5] a time shows in its lane while the other still swims, then who goes next is to be seen first', () => {
    const first = deckAt(19, [], [[1, 18]]);
    expect(first.pad(1)).toMatchObject({ swims: null, came: { name: 'Ines1', time: '13.0' }, chief: 'came' });
    const both = deckAt(
      20,
      [],
      [
        [1, 18],
        [2, 19.5],
      ],
    );
    expect(both.says).toEqual(['Next: heat 2 of 2']);
    expect(both.pad(1)).toMatchObject({ came: { time: '13.0' }, goes: 'Marek1', chief: 'goes' });
    expect(both.pad(2)).toMatchObject({ came: { name: 'Ines2', time: '14.5' }, goes: '', chief: 'goes' });
    expect(both.taken()).toEqual(['Ines1 13', 'Ines2 14.5']);
  });

  test('[CMD5] who came is held against the own first rep and the best, who swims is told of them', () => {
    const releases: At<Press>[] = [
      [RELEASE(1), 40],
      [RELEASE(2), 60],
    ];
    const swims = deckAt(65, releases, [
      [1, 18],
      [2, 19],
      [1, 54],
    ]);
    expect(swims.pad(1)).toMatchObject({ swims: { name: 'Ines1', before: '1st 13.0' } });
    const came = deckAt(75, releases, [
      [1, 18],
      [2, 19],
      [1, 54],
      [1, 73.4],
    ]);
    expect(came.pad(1)).toMatchObject({ came: { name: 'Ines1', time: '13.4', difference: '+0.4 on 1st' } });
    expect(came.pad(2)).toMatchObject({ swims: { name: 'Ines2', before: '1st 14.0' } });
  });

  test('[CMD5] a first rep that was not timed is not told of: what was timed is the best, and no first', () => {
    const three = sheetOf(FORM, ...[1, 2, 3].flatMap((rep): Line[] => [{ meet: 'gate' }, heat(1, rep)]));
    const releases: At<Press>[] = [
      [RELEASE(1), 60],
      [RELEASE(2), 120],
    ];
    expect(deckAt(130, releases, [[1, 73]], three).pad(1)).toMatchObject({ swims: { before: 'best 13.0' } });
  });

  test('[CMD5] who was not timed gives way to the next heat midway to when that is due, and can be put right', () => {
    const releases: At<Press>[] = [[RELEASE(1), 24]];
    // Heat 1 is due at 25 s, heat 2 at 44 s.
    expect(deckAt(34.4, releases).pad(1)).toMatchObject({ swims: { name: 'Ines1' } });
    expect(deckAt(34.5, releases).pad(1)).toMatchObject({ swims: { name: 'Marek1' } });
    expect(deckAt(40, releases, [[1, 37]]).taken()).toEqual(['Marek1 13']);
  });

  test('[CMD2] after a recall everybody is back, and the same heat is next', () => {
    const { says, offer, pad } = deckAt(
      44,
      [
        [RELEASE(1), 40],
        [{ kind: 'recall' }, 42],
      ],
      [
        [1, 18],
        [2, 19],
      ],
    );
    expect(says).toEqual(['Next: heat 2 of 2']);
    expect(pad(1)).toMatchObject({ swims: null, goes: 'Marek1', came: { name: 'Ines1' } });
    expect(offer.main).toMatchObject([{ press: 'go', gate: 1, word: 'Release heat 2' }]);
  });

  test('[CMD2] a false start of the first heat, which the start let go, is recalled too', () => {
    const { says, offer, pad } = deckAt(8, [[{ kind: 'recall' }, 7]]);
    expect(says).toEqual(['Next: heat 1 of 2']);
    expect(pad(1)).toMatchObject({ swims: null, came: null, goes: 'Ines1', chief: 'goes' });
    expect(offer.main).toMatchObject([{ press: 'go', gate: 0, word: 'Release heat 1' }]);
  });

  test('a second press soon after a release lets nobody go', () => {
    const mayGo = (seconds: number): boolean => !deckAt(seconds, [[RELEASE(1), 40]]).offer.main[0]?.waits;
    expect([mayGo(40.9), mayGo(42.9), mayGo(43)]).toEqual([false, false, true]);
  });

  test('[CMD5] at the gate of the first, who may still be in the water from the set before can be timed for two minutes', () => {
    const sheet = sheetOf(
      FORM,
      { reps: 1, every: 20 },
      { meet: 'gate' },
      heat(1, 1),
      { meet: 'gate' },
      heat(2, 1, [1]),
    );
    const waits = (seconds: number) => deckAt(seconds, [], [], sheet);
    expect(waits(20).pad(1)).toBeNull();
    expect(waits(40).says).toEqual(['Next: heat 1 of 2']);
    expect(waits(40).offer.main).toMatchObject([{ press: 'go', gate: 0, word: 'Release heat 1' }]);
    expect(waits(40).pad(1)).toMatchObject({ swims: { name: 'Ines1', before: 'on the set before' }, goes: 'Ines1' });
    expect(waits(200).pad(1)).toMatchObject({ swims: null, goes: 'Ines1', chief: 'goes' });
  });

  test('after the last heat a go leads on to the next set, whose pads are the usual ones', () => {
    const all: At<Press>[] = [
      [RELEASE(1), 40],
      [RELEASE(2), 60],
      [RELEASE(3), 90],
    ];
    const last = deckAt(115, all, [[1, 103]]);
    expect(last.says).toEqual(['Heat 2 of 2 in the water']);
    expect(last.offer.main).toMatchObject([{ press: 'go', gate: 4, word: 'Go' }]);
    expect(deckAt(130, [...all, [RELEASE(4), 120]]).pad(1)).toBeNull();
  });
});

describe('the caution about dives', () => {
  const sheet = plannedSheetOf('2 x 50 free @ 2:00\n2 x 25 free from a dive @ 3:00 max\n100 easy');
  const coach = started(sheet);
  const cautionIn = (seconds: number): string => {
    const face = { timezone: 'UTC', trimMs: 0 };
    return cautionAt(boardAt(sheet, coach.run, instant(TOP + seconds * 1000), { labels: {}, face }), sheet);
  };

  test('is said while a lane is at a rep from a dive, as a sentence that says who decides', () => {
    expect(cautionIn(10)).toBe('');
    expect(cautionIn(243)).toMatch(/^Dive starts: .* the lifeguard on duty decide\.$/);
    expect(cautionIn(620)).toBe('');
  });
});
