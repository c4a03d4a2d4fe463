/** Things made once and kept under a key, the least lately used ones dropped when there are too many. */
export class Shelf<T> {
  readonly #most: number;
  readonly #drop: (thing: T) => void;
  /** In order of use, the least lately used first. */
  readonly #kept = new Map<string, T>();

  constructor(most: number, drop: (thing: T) => void) {
    this.#most = most;
    this.#drop = drop;
  }

  has(key: string): boolean {
    return this.#kept.has(key);
  }

  get(key: string, make: () => T): T {
    const known = this.#kept.get(key);
    const thing = known ?? make();
    if (known !== undefined) this.#kept.delete(key);
    else if (this.#kept.size >= this.#most) this.#dropOldest();
    this.#kept.set(key, thing);
    return thing;
  }

  clear(): void {
    for (const thing of this.#kept.values()) this.#drop(thing);
    this.#kept.clear();
  }

  #dropOldest(): void {
    const oldest = this.#kept.entries().next();
    if (oldest.done) return;
    const [key, thing] = oldest.value;
    this.#drop(thing);
    this.#kept.delete(key);
  }
}
