import type { OutboxStorage } from '../../client/common/outbox.ts';

/** A browser's storage in memory. */
export class KeptStorage implements OutboxStorage {
  readonly #kept = new Map<string, string>();

  get length(): number {
    return this.#kept.size;
  }

  key(index: number): string | null {
    return [...this.#kept.keys()][index] ?? null;
  }

  getItem(key: string): string | null {
    return this.#kept.get(key) ?? null;
  }

  setItem(key: string, value: string): void {
    this.#kept.set(key, value);
  }

  removeItem(key: string): void {
    this.#kept.delete(key);
  }
}
