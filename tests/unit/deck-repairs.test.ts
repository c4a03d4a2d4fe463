import { describe, expect, test } from 'vitest';
import { laneNumber, ms } from '../../shared-types/brand.ts';
import { started } from '../fixtures/coach.ts';
import { DeckInMemory, labelsOf, TimesInMemory } from '../fixtures/deck-times.ts';
import { type Swim, sheetOf } from '../fixtures/sheets.ts';

const LANE = laneNumber(1);
const FORM = { lanes: 1, swimmers: 3, apart: 5 } as const;
const LABELS = labelsOf(FORM);

/** Three who hold 30.0, Ines first, set off at :05; a deck of the coach's, and another one. */
function practice(swim: Swim = { splits: [[50, 30, true]] }, every = 60) {
  const server = new TimesInMemory(started(sheetOf(FORM, { reps: 3, every, swim })));
  const decks = [new DeckInMemory(server, LABELS, 1), new DeckInMemory(server, LABELS, 2)] as const;
  const [deck, other] = decks;
  const press = (seconds: number, on = deck): void => void on.times.take(LANE, on.at(seconds));
  const lane = (seconds: number, on = deck) => {
    on.at(seconds);
    return on.times.lane(LANE);
  };
  return { server, deck, other, press, lane, taken: () => server.taken(LABELS) };
}

describe('a lane on the deck', () => {
  test('[CMD5] says who is next with the target to hold, then the name, the time and the difference', () => {
    const { press, lane } = practice();
    expect(lane(4)).toMatchObject({ next: null, last: null, offers: null });
    expect(lane(30)).toMatchObject({ next: { name: 'Ines', target: '30.0', place: '' }, last: null });
    press(34.4);
    expect(lane(34.5)).toMatchObject({
      next: { name: 'Marek', target: '30.0' },
      last: { name: 'Ines', time: '29.4', difference: '−0.6', note: '' },
    });
    expect(lane(64.3).last).not.toBeNull();
    expect(lane(64.4).last).toBeNull();
  });

  test('after the finish says the last time for good, and whose is to come as long as it can', () => {
    const { server, press } = practice();
    press(34.4);
    server.coach.press({ kind: 'finish' }, 36);
    const deck = new DeckInMemory(server, LABELS, 3);
    deck.at(38);
    expect(deck.times.lane(LANE)).toMatchObject({ next: { name: 'Marek' }, last: { name: 'Ines', time: '29.4' } });
    deck.at(600);
    expect(deck.times.lane(LANE)).toMatchObject({ next: null, last: { name: 'Ines', time: '29.4' } });
  });

  test('[CMD8] says the same of what waits for the server, repairs too', () => {
    const { server, deck, press, lane } = practice();
    server.isLive = false;
    press(34.4);
    deck.times.giveToNext(LANE, deck.at(35));
    expect(lane(35).last).toMatchObject({ name: 'Marek', time: '24.4' });
    deck.times.undo(LANE, deck.at(36));
    expect(lane(36).last).toMatchObject({ name: 'Ines', time: '29.4' });
    server.answer();
    expect(lane(36).last).toMatchObject({ name: 'Ines', time: '29.4' });
  });
});

describe('[CMD5] putting right what was taken', () => {
  test('[CMD6] one too many is undone, and can be brought back', () => {
    const { deck, press, lane, taken } = practice();
    press(34);
    expect(lane(34.1).offers).toMatchObject({ undo: 'Ines 29.0', back: '' });
    deck.times.undo(LANE, deck.at(35));
    expect(taken()).toEqual([]);
    expect(lane(35)).toMatchObject({ next: { name: 'Ines' }, offers: { undo: '', back: 'Ines 29.0' } });
    deck.times.bringBack(LANE, deck.at(36));
    expect(taken()).toEqual(['Ines 29']);
    expect(lane(36)).toMatchObject({ next: { name: 'Marek' }, offers: { undo: 'Ines 29.0', back: '' } });
  });

  test('[CMD5] the wrong swimmer is put right by one press; who was meant at first is next', () => {
    const { deck, press, lane, taken } = practice();
    press(38);
    expect(lane(38.1).offers).toMatchObject({ not: 'Ines', but: 'Marek' });
    deck.times.giveToNext(LANE, deck.at(39));
    expect(taken()).toEqual(['Marek 28']);
    expect(lane(39)).toMatchObject({ next: { name: 'Ines' }, last: { name: 'Marek', time: '28.0' } });
    press(40);
    press(46);
    expect(taken()).toEqual(['Marek 28', 'Ines 35', 'Lea 31']);
  });

  test('[CMD5] pressed again it goes on to the one after, and undo goes back the same way', () => {
    const { deck, press, taken } = practice();
    press(44);
    deck.times.giveToNext(LANE, deck.at(45));
    deck.times.undo(LANE, deck.at(46));
    expect(taken()).toEqual(['Ines 39']);
    deck.times.undo(LANE, deck.at(47));
    expect(taken()).toEqual([]);
  });

  test('[CMD5] who was missed has no time, and the next press is for the one after', () => {
    const { deck, press, lane, taken } = practice();
    press(35);
    expect(lane(36).offers).toMatchObject({ missed: 'Marek' });
    deck.times.miss(LANE, deck.at(42));
    expect(lane(42)).toMatchObject({ next: { name: 'Lea' }, last: { name: 'Marek', time: 'missed' } });
    deck.times.undo(LANE, deck.at(43));
    expect(lane(43).next).toMatchObject({ name: 'Marek' });
    deck.times.miss(LANE, deck.at(44));
    press(46);
    expect(taken()).toEqual(['Ines 30', 'Lea 31']);
  });

  test('[CMD5] [CMD8] who was missed on one tablet is missed on the other, which can take it back', () => {
    const { server, deck, other, press, lane, taken } = practice();
    server.isLive = false;
    press(35);
    deck.times.miss(LANE, deck.at(42));
    expect(lane(42)).toMatchObject({ next: { name: 'Lea' }, offers: { undo: 'missed Marek', not: '' } });
    server.answer();
    server.isLive = true;
    expect(lane(43, other)).toMatchObject({
      next: { name: 'Lea' },
      last: { name: 'Marek', time: 'missed', difference: '', note: '' },
      offers: { undo: 'missed Marek' },
    });
    other.times.undo(LANE, other.at(44));
    expect(lane(44)).toMatchObject({ next: { name: 'Marek' } });
    expect(taken()).toEqual(['Ines 30']);
  });

  test('[CMD5] a time typed for who was missed takes the place of that', () => {
    const { server, deck, lane, taken } = practice();
    deck.times.miss(LANE, deck.at(36));
    const [missed] = server.marks;
    if (!missed?.leftAt) throw new Error('nobody was missed');
    const { swimmer, step, pass, distance, leftAt } = missed;
    deck.times.type(LANE, { swimmer, step, pass, distance, leftAt }, ms(30_500));
    expect(taken()).toEqual(['Ines 30.5']);
    expect(lane(37).last).toMatchObject({ name: 'Ines', time: '30.5', note: '' });
    deck.times.undo(LANE, deck.at(38));
    expect(server.marks.map(({ state }) => state)).toEqual(['missed', 'void']);
  });

  test('[CMD5] a drop of water on a repair does nothing more', () => {
    const { deck, press, taken } = practice();
    press(35);
    press(41);
    deck.times.undo(LANE, deck.at(42));
    deck.times.undo(LANE, deck.at(42.3));
    expect(taken()).toEqual(['Ines 30']);
  });

  test('[CMD5] of two tablets that took the same one time counts, both are kept, and the coach can swap them', () => {
    const { server, deck, other, press, lane, taken } = practice();
    server.isLive = false;
    press(34.4, other);
    const [theirs] = server.waiting.value;
    server.waiting.value = [];
    press(34.6);
    server.waiting.value = [...(theirs ? [theirs] : []), ...server.waiting.value];
    server.answer();
    server.isLive = true;
    expect(taken()).toEqual(['Ines 29.4', 'Ines 29.6 second']);
    expect(lane(35)).toMatchObject({
      next: { name: 'Marek' },
      last: { name: 'Ines', time: '29.4', note: 'also 29.6' },
      offers: { swap: '29.6' },
    });
    deck.times.swap(LANE, deck.at(36));
    expect(taken()).toEqual(['Ines 29.4 second', 'Ines 29.6']);
    expect(lane(36).last).toMatchObject({ time: '29.6', note: 'also 29.4' });
    deck.times.undo(LANE, deck.at(37));
    expect(taken()).toEqual(['Ines 29.4', 'Ines 29.6 second']);
  });

  test('[CMD5] is offered for a minute, for a time that another tablet took too', () => {
    const { other, press, lane } = practice();
    press(34, other);
    expect(lane(93.9).offers).toMatchObject({ undo: 'Ines 29.0', not: 'Ines', but: 'Marek' });
    expect(lane(94).offers).toBeNull();
  });
});

describe('[CMD5] paced parts', () => {
  const HALF: Swim = {
    distance: 100,
    splits: [
      [50, 30, true],
      [100, 80, false],
    ],
  };

  test('[CMD5] the end of the paced part is taken, or the finish, or both, as chosen for the set', () => {
    const { server, deck, press, lane } = practice(HALF, 120);
    const { run, sheet } = server.coach;
    const distances = (): number[] => server.marks.map(({ distance }) => distance);
    expect(lane(30).next).toEqual({ name: 'Ines', target: '30.0', place: 'at 50' });
    press(34);
    expect(lane(34).last).toMatchObject({ time: '29.0', difference: '−1.0' });
    deck.choices.choose(run.id, sheet, 0, 'both');
    press(39);
    expect(lane(39).next).toMatchObject({ name: 'Lea', place: 'at 50' });
    press(44);
    expect(lane(44).next).toEqual({ name: 'Ines', target: '1:20.0', place: '' });
    press(84);
    expect(distances()).toEqual([50, 50, 50, 100]);
  });
});

describe('[CMD5] times called out', () => {
  const REP = { step: '1.1.1.1', pass: 1, distance: 50 };

  test('[CMD5] count from the send-off, in the place of what was pressed, and say that they were typed', () => {
    const { server, deck, press, lane, taken } = practice();
    press(34);
    const [pressed] = server.marks;
    if (!pressed?.leftAt) throw new Error('nothing was pressed');
    const thing = { ...REP, swimmer: pressed.swimmer, leftAt: pressed.leftAt };
    deck.times.type(LANE, thing, ms(29_500));
    expect(taken()).toEqual(['Ines 29.5']);
    expect(server.marks.map(({ typed }) => typed)).toEqual([undefined, true]);
    expect(lane(35).last).toMatchObject({ name: 'Ines', time: '29.5', difference: '−0.5' });
    expect(lane(35).offers).toMatchObject({ undo: 'Ines 29.5', not: '' });
    deck.times.undo(LANE, deck.at(36));
    expect(taken()).toEqual(['Ines 29']);
  });
});
