import { computed, type ReadonlySignal, signal } from '@preact/signals-core';
import { z } from 'zod';
import type { CommandId } from '../../shared-types/brand.ts';
import { MARK_WITHIN_MS, type MarkCommand, markCommandSchema, markOf } from '../../shared-types/marks.ts';

/** What the outbox keeps marks in: the device's storage, shared by all its pages. */
export type OutboxStorage = Pick<Storage, 'getItem' | 'setItem' | 'removeItem' | 'key' | 'length'>;

export interface OutboxParts {
  /** Null where the browser forbids it: marks then last as long as the page. */
  readonly storage: OutboxStorage | null;
  /** Time of day, ms. */
  wallNow(): number;
  later(delayMs: number, call: () => void): () => void;
  isLive(): boolean;
  /** @returns whether the server has answered for good, be it with a refusal */
  send(command: MarkCommand): Promise<boolean>;
}

const PREFIX = 'farwall-mark-';
/** A long practice of a big squad; in storage about 1 MB of the 5 that browsers give. */
const MOST_KEPT = 2000;
/** On their way at a time: the server hears so many a second from one page, and all are to be answered in time. */
const MOST_AT_ONCE = 20;
/** How soon what was not answered is sent again while the link is up, ms. */
const AGAIN_MS = 2000;

const keptSchema = z.object({
  /** Time of day when it was put in, ms. */
  keptAt: z.number(),
  /** Order of what one page put in. */
  order: z.number().int(),
  command: markCommandSchema,
});
type Kept = z.infer<typeof keptSchema>;

interface Item extends Kept {
  /** Put in by this page: it knows of it whatever becomes of the storage. */
  readonly own: boolean;
}

/**
 * [CMD8] Marks on their way to the server. They lie in the device's storage, each under a key of its own, so that pages
 * never overwrite each other's; every page sends whatever it finds, and the marks' ids make it harmless that two may
 * send the same. Nothing waits for anything else, except a repair for the mark it repairs.
 */
export class Outbox {
  readonly #parts: OutboxParts;
  readonly #items = signal<ReadonlyMap<CommandId, Item>>(new Map());
  readonly #sending = new Set<CommandId>();
  #order = 0;
  #callOff: () => void = () => {};

  /** What has not been answered yet, in the order in which it was put in. */
  readonly waiting: ReadonlySignal<readonly MarkCommand[]> = computed(() =>
    inOrder(this.#items.value).map(({ command }) => command),
  );

  constructor(parts: OutboxParts) {
    this.#parts = parts;
    this.#collect();
  }

  /** @returns false when the outbox is full and the command was not taken */
  add(command: MarkCommand): boolean {
    if (this.#items.value.size >= MOST_KEPT) return false;
    this.#order += 1;
    const kept: Kept = { keptAt: this.#parts.wallNow(), order: this.#order, command };
    this.#items.value = new Map(this.#items.value).set(command.id, { ...kept, own: true });
    try {
      this.#parts.storage?.setItem(PREFIX + command.id, JSON.stringify(kept));
    } catch {
      // A full storage: the mark lives as long as this page does.
    }
    this.#sendAll();
    return true;
  }

  /** Sends everything that is not on its way, this page's and what others left. */
  flush(): void {
    this.#callOff();
    this.#collect();
    this.#sendAll();
  }

  #sendAll(): void {
    if (!this.#parts.isLive()) return;
    const before = new Set<CommandId>();
    for (const { command } of inOrder(this.#items.value)) {
      const isFirst = !before.has(markOf(command));
      before.add(markOf(command));
      if (this.#sending.size >= MOST_AT_ONCE) return;
      if (isFirst && !this.#sending.has(command.id)) void this.#send(command);
    }
  }

  async #send(command: MarkCommand): Promise<void> {
    this.#sending.add(command.id);
    const answered = await this.#parts.send(command).catch(() => false);
    this.#sending.delete(command.id);
    if (answered) {
      this.#drop(command.id);
      // A repair may have waited for this one.
      this.#sendAll();
      return;
    }
    this.#callOff();
    this.#callOff = this.#parts.later(AGAIN_MS, () => this.flush());
  }

  #drop(id: CommandId): void {
    const items = new Map(this.#items.value);
    items.delete(id);
    this.#items.value = items;
    this.#parts.storage?.removeItem(PREFIX + id);
  }

  /** Takes up what other pages have put in, leaves what they have sent, and throws away what is too old. */
  #collect(): void {
    const items = new Map(this.#items.value);
    const keys = new Set(this.#keys());
    for (const { own, command } of this.#items.value.values()) {
      if (!own && !keys.has(PREFIX + command.id)) items.delete(command.id);
      keys.delete(PREFIX + command.id);
    }
    const oldest = this.#parts.wallNow() - MARK_WITHIN_MS;
    for (const key of keys) {
      const kept = keptSchema.safeParse(jsonOf(this.#parts.storage?.getItem(key) ?? ''));
      if (kept.success && kept.data.keptAt >= oldest) items.set(kept.data.command.id, { ...kept.data, own: false });
      else this.#parts.storage?.removeItem(key);
    }
    this.#items.value = items;
  }

  #keys(): string[] {
    const { storage } = this.#parts;
    const keys = Array.from({ length: storage?.length ?? 0 }, (_, index) => storage?.key(index) ?? '');
    return keys.filter((key) => key.startsWith(PREFIX));
  }
}

const inOrder = (items: ReadonlyMap<CommandId, Item>): Item[] =>
  [...items.values()].sort((a, b) => a.keptAt - b.keptAt || a.order - b.order);

function jsonOf(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}
