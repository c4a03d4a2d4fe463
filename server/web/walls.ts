import type { DeviceId, Instant } from '../../shared-types/brand.ts';
import type { ScreenInfo } from '../../shared-types/wire/from-server.ts';
import type { Identify, WallInfo, WallSettings, WallSetUp } from '../../shared-types/wire/walls.ts';
import type { ScreenStore, StoredWall } from '../store/screen-store.ts';
import type { Screens } from './screens.ts';

/** Long enough to look up from the desk and find the wall that says it. */
export const IDENTIFY: Identify = { forMs: 8000 };

/** Set up and remembered, whether they are there or not. */
export const MOST_WALLS = 50;

export type WallNews = { readonly kind: 'set' | 'identify'; readonly device: DeviceId };

/** The lowest number from 1 that none of these has. */
function freeNumber(taken: Iterable<number>): number {
  const used = new Set(taken);
  let number = 1;
  while (used.has(number)) number += 1;
  return number;
}

/**
 * The walls there are: those that are connected and those that have been set up. Only what has been set up is stored;
 * any page may call itself a wall, and its number is free again when it goes.
 */
export class Walls {
  readonly #store: ScreenStore;
  readonly #screens: Screens;
  readonly #now: () => Instant;
  readonly #stored: Map<DeviceId, StoredWall>;
  /** Of walls that are connected and not set up. */
  readonly #numbers = new Map<DeviceId, number>();
  /** When each came or went last. */
  readonly #since = new Map<DeviceId, Instant>();
  readonly #listeners = new Set<(news: WallNews) => void>();

  /** @param now the pool's clock */
  constructor(store: ScreenStore, screens: Screens, now: () => Instant) {
    this.#store = store;
    this.#screens = screens;
    this.#now = now;
    this.#stored = new Map(store.walls().map((wall) => [wall.device, wall]));
  }

  listen(listener: (news: WallNews) => void): void {
    this.#listeners.add(listener);
  }

  /** A wall is about to be among the screens, perhaps with another connection. @returns what is its own */
  came(device: DeviceId): WallSetUp {
    const known = this.setUpOf(device);
    if (!this.#isConnected(device)) this.#since.set(device, this.#now());
    if (known) return known;
    const taken = [...this.#stored.values()].map(({ number }) => number);
    const number = freeNumber([...taken, ...this.#numbers.values()]);
    this.#numbers.set(device, number);
    return { number, settings: null };
  }

  /** One of a wall's connections is no longer among the screens. */
  went(device: DeviceId): void {
    if (this.#isConnected(device)) return;
    this.#numbers.delete(device);
    if (this.#stored.has(device)) this.#since.set(device, this.#now());
    else this.#since.delete(device);
  }

  /** By their numbers. */
  list(): WallInfo[] {
    const walls = this.#screens.list().filter(({ role }) => role === 'wall');
    const connected = new Map(walls.map((screen) => [screen.device, screen]));
    const devices = [...this.#stored.keys(), ...this.#numbers.keys()];
    return devices
      .flatMap((device) => this.#infoOf(device, connected.get(device)) ?? [])
      .sort((a, b) => a.number - b.number);
  }

  /** Whether another can be set up. */
  hasRoomFor(device: DeviceId): boolean {
    return this.#stored.has(device) || this.#stored.size < MOST_WALLS;
  }

  /** @returns false when there is no such wall */
  set(device: DeviceId, settings: WallSettings): boolean {
    const known = this.setUpOf(device);
    if (!known) return false;
    const stored = { device, number: known.number, settings };
    this.#store.save(stored);
    this.#stored.set(device, stored);
    this.#numbers.delete(device);
    this.#tell({ kind: 'set', device });
    return true;
  }

  /** What was set is forgotten; a wall that is connected keeps its number. @returns false when nothing was set */
  forget(device: DeviceId): boolean {
    const known = this.#stored.get(device);
    if (!known) return false;
    this.#store.forget(device);
    this.#stored.delete(device);
    if (this.#isConnected(device)) this.#numbers.set(device, known.number);
    else this.#since.delete(device);
    this.#tell({ kind: 'set', device });
    return true;
  }

  /** Has it say its name and number. @returns false when it is not connected */
  identify(device: DeviceId): boolean {
    if (!this.setUpOf(device) || !this.#isConnected(device)) return false;
    this.#tell({ kind: 'identify', device });
    return true;
  }

  /** What a wall is to be told of itself; null when there is no such wall. */
  setUpOf(device: DeviceId): WallSetUp | null {
    const stored = this.#stored.get(device);
    if (stored) return { number: stored.number, settings: stored.settings };
    const number = this.#numbers.get(device);
    return number === undefined ? null : { number, settings: null };
  }

  #infoOf(device: DeviceId, screen: ScreenInfo | undefined): WallInfo | null {
    const known = this.setUpOf(device);
    return (
      known && {
        ...known,
        device,
        connected: screen !== undefined,
        since: this.#since.get(device) ?? null,
        syncBoundMs: screen?.syncBoundMs ?? null,
        readableToM: screen?.readableToM ?? null,
        seenFromM: screen?.seenFromM ?? null,
      }
    );
  }

  #isConnected(device: DeviceId): boolean {
    return this.#screens.wallSockets(device).length > 0;
  }

  #tell(news: WallNews): void {
    for (const listener of this.#listeners) listener(news);
  }
}
