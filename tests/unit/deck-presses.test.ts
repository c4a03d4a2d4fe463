import { describe, expect, test } from 'vitest';
import { type Contact, Contacts } from '../../client/deck/contacts.ts';
import { laneNumber } from '../../shared-types/brand.ts';
import { started } from '../fixtures/coach.ts';
import { DeckInMemory, labelsOf, TimesInMemory } from '../fixtures/deck-times.ts';
import { type SheetForm, type Swim, sheetOf } from '../fixtures/sheets.ts';

/** A practice set off at :05, in which everybody holds 30.0, and a deck. */
function onDeck(form: SheetForm, swim: Swim = { splits: [[50, 30, true]] }) {
  const server = new TimesInMemory(started(sheetOf(form, { reps: 3, every: 60, swim })));
  const labels = labelsOf(form);
  const deck = new DeckInMemory(server, labels);
  const press = (lane: number, seconds: number): void => {
    deck.times.take(laneNumber(lane), deck.at(seconds));
  };
  const taken = (): string[] => server.taken(labels);
  return { press, taken };
}

describe('[CMD5] presses that come close together', () => {
  test('[CMD5] two taps 80 ms apart in one lane are two swimmers, in the order in which they should come', () => {
    const { press, taken } = onDeck({ lanes: 1, swimmers: 3, apart: 5 });
    press(1, 38);
    press(1, 38.08);
    expect(taken()).toEqual(['Ines 33', 'Marek 28.08']);
  });

  test('[CMD5] a drop of water soon after a press takes no time of who cannot have come yet', () => {
    const { press, taken } = onDeck({ lanes: 1, swimmers: 2, apart: 10 });
    press(1, 34);
    press(1, 34.3);
    press(1, 34.69);
    expect(taken()).toEqual(['Ines 29']);
    press(1, 34.7);
    expect(taken()).toEqual(['Ines 29', 'Marek 19.7']);
  });

  test('[CMD5] nor do the contacts that a wet finger makes by itself, however many are due', () => {
    const { press, taken } = onDeck({ lanes: 1, swimmers: 3, apart: 5 });
    press(1, 38);
    press(1, 38.02);
    press(1, 38.049);
    expect(taken()).toEqual(['Ines 33']);
    press(1, 38.05);
    expect(taken()).toEqual(['Ines 33', 'Marek 28.05']);
  });

  test('[CMD5] ten presses in a second over eight lanes lose none', () => {
    const { press, taken } = onDeck({ lanes: 8, swimmers: 2, apart: 5 });
    [1, 2, 3, 4, 5, 6, 7, 8, 1, 2].forEach((lane, place) => {
      press(lane, 37 + place * 0.1);
    });
    expect(taken()).toHaveLength(10);
    expect(taken().slice(-2)).toEqual(['Marek1 27.8', 'Marek2 27.9']);
  });

  test('[CMD5] two lanes pressed at the same instant are two times', () => {
    const { press, taken } = onDeck({ lanes: 2 });
    press(1, 35);
    press(2, 35);
    expect(taken()).toEqual(['Ines1 30', 'Ines2 30']);
  });

  test('[CMD5] without targets the time just taken says whether a lane mate can have come', () => {
    const { press, taken } = onDeck({ lanes: 1, swimmers: 3, apart: 10 }, {});
    press(1, 45);
    press(1, 45.3);
    press(1, 45.5);
    expect(taken()).toEqual(['Ines 40', 'Marek 30.3']);
  });
});

const contact = (pointerId: number, timeStamp: number): Contact => ({
  pointerId,
  pointerType: 'touch',
  isPrimary: pointerId === 1,
  timeStamp,
});

describe('touches at once', () => {
  test('up to four count; with a fifth none does, and what the four did is taken back', () => {
    const contacts = new Contacts();
    const takenBack: number[] = [];
    for (const finger of [1, 2, 3, 4]) {
      contacts.down(contact(finger, finger * 10));
      expect(contacts.areTooMany).toBe(false);
      contacts.did({ pointerId: finger }, () => takenBack.push(finger));
    }
    contacts.down(contact(5, 60));
    expect(contacts.areTooMany).toBe(true);
    expect(takenBack).toEqual([1, 2, 3, 4]);
    contacts.up({ pointerId: 5 });
    contacts.down(contact(6, 90));
    expect(takenBack).toEqual([1, 2, 3, 4]);
  });

  test('what a finger did that was lifted, or has lain there for long, stands', () => {
    const contacts = new Contacts();
    const takenBack: number[] = [];
    contacts.down(contact(1, 0));
    contacts.did({ pointerId: 1 }, () => takenBack.push(1));
    contacts.down(contact(2, 10));
    contacts.did({ pointerId: 2 }, () => takenBack.push(2));
    contacts.up({ pointerId: 2 });
    for (const finger of [3, 4, 5, 6]) contacts.down(contact(finger, 800));
    expect(contacts.areTooMany).toBe(true);
    expect(takenBack).toEqual([]);
  });

  test('an end that the page never heard of is forgotten with the next single touch', () => {
    const contacts = new Contacts();
    for (const finger of [1, 2, 3, 4, 5]) contacts.down(contact(finger, finger));
    contacts.down({ ...contact(7, 2000), isPrimary: true });
    expect(contacts.areTooMany).toBe(false);
  });

  test('a mouse is no touch', () => {
    const contacts = new Contacts();
    for (const id of [1, 2, 3, 4, 5]) contacts.down({ ...contact(id, id), pointerType: 'mouse', isPrimary: false });
    expect(contacts.areTooMany).toBe(false);
  });
});
