import { beforeEach, describe, expect, test } from 'vitest';
import { Outbox, type OutboxStorage } from '../../client/common/outbox.ts';
import { type CommandId, commandIdSchema, deviceIdSchema, instant, runIdSchema } from '../../shared-types/brand.ts';
import { MARK_WITHIN_MS, type MarkCommand } from '../../shared-types/marks.ts';
import { swimmerId } from '../fixtures/sheets.ts';

const hex = (n: number): string => n.toString(16).padStart(32, '0');
const id = (n: number): CommandId => commandIdSchema.parse(hex(n));
const base = { device: deviceIdSchema.parse(hex(7)), run: runIdSchema.parse(hex(8)) };

const mark = (n: number): MarkCommand => ({
  ...base,
  kind: 'mark',
  id: id(n),
  swimmer: swimmerId(1, 1),
  step: '1.1.1.1',
  pass: 1,
  distance: 50,
  pressedAt: instant(1000),
});
const repair = (n: number, kind: 'void' | 'restore', of: number): MarkCommand => ({
  ...base,
  kind,
  id: id(n),
  mark: id(of),
});

/** A device's storage in memory. */
class Cupboard implements OutboxStorage {
  readonly kept = new Map<string, string>();
  isFull = false;

  get length(): number {
    return this.kept.size;
  }

  key(index: number): string | null {
    return [...this.kept.keys()][index] ?? null;
  }

  getItem(key: string): string | null {
    return this.kept.get(key) ?? null;
  }

  setItem(key: string, value: string): void {
    if (this.isFull) throw new Error('quota exceeded');
    this.kept.set(key, value);
  }

  removeItem(key: string): void {
    this.kept.delete(key);
  }
}

/** Pages of one device, and a server that answers when it is told to. */
class World {
  storage: Cupboard | null = new Cupboard();
  isLive = true;
  wallMs = 1_000_000;
  readonly sent: CommandId[] = [];
  readonly #open: { readonly id: CommandId; readonly answer: (final: boolean) => void }[] = [];
  #timers: (() => void)[] = [];

  page(): Outbox {
    return new Outbox({
      storage: this.storage,
      wallNow: () => this.wallMs,
      isLive: () => this.isLive,
      later: (_delayMs, call) => {
        this.#timers.push(call);
        return () => {
          this.#timers = this.#timers.filter((other) => other !== call);
        };
      },
      send: (command) => {
        this.sent.push(command.id);
        return new Promise((resolve) => this.#open.push({ id: command.id, answer: resolve }));
      },
    });
  }

  /** The server answers this one, for good or not. */
  async answer(n: number, final = true): Promise<void> {
    const place = this.#open.findIndex((one) => one.id === id(n));
    const [found] = this.#open.splice(place, 1);
    if (place < 0 || !found) throw new Error(`nobody asked about ${n}`);
    found.answer(final);
    for (let turn = 0; turn < 10; turn += 1) await Promise.resolve();
  }

  /** All timers ring. */
  ring(): void {
    const due = this.#timers;
    this.#timers = [];
    for (const call of due) call();
  }
}

const waiting = (outbox: Outbox): number[] => outbox.waiting.value.map((command) => Number.parseInt(command.id, 16));

let world: World;
beforeEach(() => {
  world = new World();
});

describe('[CMD8] the outbox', () => {
  test('[CMD8] sends what is put in at once, none waiting for another', async () => {
    const outbox = world.page();
    outbox.add(mark(1));
    outbox.add(mark(2));
    expect(world.sent).toEqual([id(1), id(2)]);
    await world.answer(2);
    expect(waiting(outbox)).toEqual([1]);
    await world.answer(1);
    expect(waiting(outbox)).toEqual([]);
    expect(world.storage?.kept.size).toBe(0);
  });

  test('[CMD8] keeps what it cannot send, and sends it in order when the link is back', async () => {
    world.isLive = false;
    const outbox = world.page();
    for (const n of [3, 1, 2]) outbox.add(mark(n));
    expect(world.sent).toEqual([]);
    world.isLive = true;
    outbox.flush();
    outbox.flush();
    expect(world.sent).toEqual([id(3), id(1), id(2)]);
  });

  test('[CMD8] sends again what was not answered, and drops only what was', async () => {
    const outbox = world.page();
    outbox.add(mark(1));
    await world.answer(1, false);
    expect(waiting(outbox)).toEqual([1]);
    world.ring();
    expect(world.sent).toEqual([id(1), id(1)]);
    await world.answer(1);
    world.ring();
    expect(world.sent).toHaveLength(2);
  });

  test('[CMD8] a repair waits for its own mark alone', async () => {
    const outbox = world.page();
    for (const command of [mark(1), repair(2, 'void', 1), repair(3, 'restore', 1), mark(4)]) outbox.add(command);
    expect(world.sent).toEqual([id(1), id(4)]);
    await world.answer(1);
    expect(world.sent.slice(2)).toEqual([id(2)]);
    await world.answer(2);
    expect(world.sent.slice(3)).toEqual([id(3)]);
    await world.answer(3);
    expect(waiting(outbox)).toEqual([4]);
  });

  test('[CMD8] survives a reload', () => {
    world.isLive = false;
    const before = world.page();
    before.add(mark(1));
    before.add(repair(2, 'void', 1));
    const after = world.page();
    expect(after.waiting.value).toEqual(before.waiting.value);
    world.isLive = true;
    after.flush();
    expect(world.sent).toEqual([id(1)]);
  });

  test('[CMD8] of several pages of one device each keeps its own, and one sends what another left behind', async () => {
    world.isLive = false;
    const [one, two] = [world.page(), world.page()];
    one.add(mark(1));
    world.wallMs += 1;
    two.add(mark(2));
    expect(world.storage?.kept.size).toBe(2);
    world.isLive = true;
    two.flush();
    expect(world.sent).toEqual([id(1), id(2)]);
    await world.answer(1);
    await world.answer(2);
    expect(world.storage?.kept.size).toBe(0);
    const third = world.page();
    expect(waiting(third)).toEqual([]);
  });

  test('[CMD8] what another page has sent by now is not waiting here any more', async () => {
    world.isLive = false;
    const one = world.page();
    one.add(mark(1));
    const two = world.page();
    expect(waiting(two)).toEqual([1]);
    world.isLive = true;
    one.flush();
    await world.answer(1);
    two.flush();
    expect(waiting(two)).toEqual([]);
    expect(world.sent).toEqual([id(1)]);
  });

  test('[CMD8] without storage, or with a full one, marks last as long as the page', async () => {
    world.isLive = false;
    for (const storage of [null, Object.assign(new Cupboard(), { isFull: true })]) {
      world.storage = storage;
      const outbox = world.page();
      expect(outbox.add(mark(1))).toBe(true);
      outbox.flush();
      expect(waiting(outbox)).toEqual([1]);
    }
  });

  test('[CMD8] what was left behind twelve hours ago is thrown away, and what cannot be read', () => {
    world.isLive = false;
    world.page().add(mark(1));
    world.storage?.setItem('farwall-mark-odd', '{"not":"a mark"');
    world.storage?.setItem('something-else', 'stays');
    world.wallMs += MARK_WITHIN_MS + 1;
    expect(waiting(world.page())).toEqual([]);
    expect([...(world.storage?.kept.keys() ?? [])]).toEqual(['something-else']);
  });

  test('[CMD8] says so when it is full, and keeps what it has', () => {
    world.isLive = false;
    const outbox = world.page();
    let n = 1;
    while (outbox.add(mark(n))) n += 1;
    expect(n).toBeGreaterThan(1000);
    expect(waiting(outbox)).toHaveLength(n - 1);
  });
});
