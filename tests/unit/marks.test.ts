import { describe, expect, test } from 'vitest';
import {
  type CommandId,
  commandIdSchema,
  deviceIdSchema,
  instant,
  laneNumber,
  runIdSchema,
} from '../../shared-types/brand.ts';
import {
  foldMarks,
  type Mark,
  type MarkEvent,
  type MarkPlace,
  markEventSchema,
  marksOf,
  NO_MARKS,
} from '../../shared-types/marks.ts';
import { swimmerId } from '../fixtures/sheets.ts';

const hex = (n: number): string => n.toString(16).padStart(32, '0');
const id = (n: number): CommandId => commandIdSchema.parse(hex(n));
const RUN = runIdSchema.parse(hex(1));

/** A place in the first rep of lane 1, left at second 10. */
const place = (order: number, more: Partial<MarkPlace> = {}): MarkPlace => ({
  swimmer: swimmerId(1, order),
  lane: laneNumber(1),
  step: '1.1.1.1',
  pass: 1,
  distance: 50,
  leftAt: instant(10_000),
  ...more,
});

/** Events in order; what is said of each is its kind, its mark and the rest. */
class Book {
  readonly events: MarkEvent[] = [];

  #base(mark: number, device = 1) {
    const seq = this.events.length + 1;
    return {
      run: RUN,
      seq,
      command: id(100 + seq),
      device: deviceIdSchema.parse(hex(device)),
      mark: id(mark),
      decidedAt: instant(seq),
    };
  }

  mark(mark: number, seconds: number, at: MarkPlace, device = 1): this {
    this.events.push({ ...this.#base(mark, device), kind: 'mark', pressedAt: instant(seconds * 1000), place: at });
    return this;
  }

  miss(mark: number, seconds: number, at: MarkPlace): this {
    this.events.push({ ...this.#base(mark), kind: 'miss', pressedAt: instant(seconds * 1000), place: at });
    return this;
  }

  assign(mark: number, at: MarkPlace): this {
    this.events.push({ ...this.#base(mark), kind: 'assign', place: at });
    return this;
  }

  void(mark: number): this {
    this.events.push({ ...this.#base(mark), kind: 'void' });
    return this;
  }

  restore(mark: number, at: MarkPlace, isVoid = false): this {
    this.events.push({ ...this.#base(mark), kind: 'restore', place: at, isVoid });
    return this;
  }

  get marks(): Mark[] {
    return marksOf(foldMarks(NO_MARKS, this.events));
  }

  /** `counts 29.8`, of each mark in the order in which they were stored. */
  get words(): string[] {
    return this.marks.map(({ state, ms }) => (ms === null ? state : `${state} ${ms / 1000}`));
  }
}

describe('[CMD5] marks folded from their events', () => {
  test('[CMD5] a time is from the send-off stored with the mark to the press', () => {
    const [mark] = new Book().mark(1, 39.8, place(1)).marks;
    expect(mark).toEqual({ ...place(1), id: id(1), pressedAt: 39_800, ms: 29_800, device: hex(1), state: 'counts' });
  });

  test('[CMD5] of two tablets that mark the same thing both are kept and the earlier stored counts', () => {
    const book = new Book().mark(1, 40.2, place(1), 1).mark(2, 39.9, place(1), 2).mark(3, 41, place(2), 2);
    expect(book.words).toEqual(['counts 30.2', 'second 29.9', 'counts 31']);
    expect(book.void(1).words).toEqual(['void 30.2', 'counts 29.9', 'counts 31']);
    expect(book.restore(1, place(1)).words).toEqual(['counts 30.2', 'second 29.9', 'counts 31']);
  });

  test('[CMD5] another pass or distance of the same rep is another thing', () => {
    const split = place(1, { distance: 25 });
    const again = place(1, { pass: 2, leftAt: instant(60_000) });
    expect(new Book().mark(1, 40, place(1)).mark(2, 24, split).mark(3, 91, again).words).toEqual([
      'counts 30',
      'counts 14',
      'counts 31',
    ]);
  });

  test('[CMD5] a mark that fits no send-off is unplaced until it is assigned, and keeps nobody from counting', () => {
    const book = new Book().mark(1, 9, place(1, { leftAt: null })).mark(2, 40, place(1));
    expect(book.words).toEqual(['unplaced', 'counts 30']);
    expect(book.assign(1, place(2, { leftAt: instant(5000) })).words).toEqual(['counts 4', 'counts 30']);
  });

  test('[CMD5] who is assigned to a place that has a mark comes second there', () => {
    const book = new Book().mark(1, 40, place(1)).mark(2, 41, place(2)).assign(1, place(2));
    expect(book.words).toEqual(['second 30', 'counts 31']);
  });

  test('[CMD6] restore takes back the newest repair, then the one before', () => {
    const book = new Book().mark(1, 40, place(1)).assign(1, place(2)).void(1);
    expect(book.marks[0]).toMatchObject({ swimmer: swimmerId(1, 2), state: 'void' });
    expect(book.restore(1, place(2)).marks[0]).toMatchObject({ swimmer: swimmerId(1, 2), state: 'counts' });
    expect(book.restore(1, place(1)).marks[0]).toMatchObject({ swimmer: swimmerId(1, 1), state: 'counts' });
  });

  test('[CMD5] assigning a void mark makes it count, and restoring makes it void again', () => {
    const book = new Book().mark(1, 40, place(1)).void(1).assign(1, place(2));
    expect(book.words).toEqual(['counts 30']);
    expect(book.restore(1, place(1), true).words).toEqual(['void 30']);
  });

  test('[RUN2] folding a prefix and then the rest gives the same, and what is folded already changes nothing', () => {
    const { events } = new Book().mark(1, 40, place(1)).mark(2, 41, place(1)).void(1).restore(1, place(1)).void(2);
    const whole = foldMarks(NO_MARKS, events);
    for (let cut = 0; cut <= events.length; cut += 1) {
      expect(foldMarks(foldMarks(NO_MARKS, events.slice(0, cut)), events)).toEqual(whole);
    }
  });

  test('[CMD5] a time that was typed says so through every repair, and one stored before they could be was pressed', () => {
    const { events } = new Book().mark(1, 40, place(1)).mark(2, 41, place(2)).void(2).restore(2, place(2));
    const stored = events.map((event) => markEventSchema.parse(JSON.parse(JSON.stringify(event))));
    const typed = stored.map((event) => (event.kind === 'mark' && event.seq === 2 ? { ...event, typed: true } : event));
    const read = typed.map((event) => markEventSchema.parse(event));
    expect(marksOf(foldMarks(NO_MARKS, read)).map((mark) => mark.typed)).toEqual([undefined, true]);
    expect(marksOf(foldMarks(NO_MARKS, stored)).map((mark) => mark.typed)).toEqual([undefined, undefined]);
  });

  test('[CMD5] who was missed has no time, and keeps no time of the same from counting', () => {
    const book = new Book().miss(1, 40, place(1)).mark(2, 41, place(1));
    expect(book.words).toEqual(['missed', 'counts 31']);
    expect(book.void(1).words).toEqual(['void', 'counts 31']);
    expect(book.restore(1, place(1)).words).toEqual(['missed', 'counts 31']);
  });

  test('a missing event is a bug', () => {
    const { events } = new Book().mark(1, 40, place(1)).void(1);
    expect(() => foldMarks(NO_MARKS, events.slice(1))).toThrow(RangeError);
  });
});
