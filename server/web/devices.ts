import { parseCookie, stringifySetCookie } from 'cookie';
import type { Instant, PairedId } from '../../shared-types/brand.ts';
import { pairedIdSchema } from '../../shared-types/brand.ts';
import type { Access } from '../../shared-types/wire/access.ts';
import { failure, type KnownFailure } from '../failure.ts';
import type { DeviceStore, StoredDevice } from '../store/device-store.ts';
import { hashOf, isSecretOf, newSecret, randomCode } from './secrets.ts';

/** A club has a dozen; whoever needs more has forgotten to end the old ones. */
const MOST_DEVICES = 200;

/** As long as browsers keep a cookie; each page that is opened begins it anew. */
const COOKIE_FOR_S = 400 * 24 * 60 * 60;

/** Being there is written down this often at most, ms. */
const SEEN_EVERY_MS = 10 * 60 * 1000;

const TOO_MANY = failure('too-many-devices', `${MOST_DEVICES} devices are paired already.`, {
  fix: 'End the pairing of some on the desk, under Today.',
});

export interface DevicesParts {
  readonly store: DeviceStore;
  /** The pool's clock. */
  readonly now: () => Instant;
  readonly newId: () => string;
  /** Whether cookies go over https only. */
  readonly isSecure: boolean;
}

/** The devices that have been paired. Each has a random secret in a cookie; here only its hash is known. */
export class Devices {
  readonly #parts: DevicesParts;
  readonly #cookieName: string;
  readonly #devices: Map<PairedId, StoredDevice>;
  readonly #gone = new Set<(id: PairedId) => void>();

  constructor(parts: DevicesParts) {
    this.#parts = parts;
    this.#cookieName = parts.store.cookieName(`farwall_${randomCode(8).toLowerCase()}`);
    this.#devices = new Map(parts.store.devices().map((device) => [device.id, device]));
  }

  /** Hears of each that is no longer paired. */
  listen(gone: (id: PairedId) => void): void {
    this.#gone.add(gone);
  }

  list(): StoredDevice[] {
    return [...this.#devices.values()];
  }

  /** Null: it is not paired, or no longer. */
  accessOf(id: PairedId): Access | null {
    return this.#devices.get(id)?.access ?? null;
  }

  /** Whose cookie this is. @param cookies the header @returns null when it is nobody's */
  deviceOf(cookies: string | undefined): StoredDevice | null {
    const [id, secret] = parseCookie(cookies ?? '')[this.#cookieName]?.split('.') ?? [];
    const known = this.#devices.get(pairedIdSchema.safeParse(id).data ?? NOBODY);
    if (!known || secret === undefined || !isSecretOf(secret, known.secretHash)) return null;
    return this.#seen(known);
  }

  /** Why no other can be paired; null when one can. */
  full(): KnownFailure | null {
    return this.#devices.size >= MOST_DEVICES ? TOO_MANY : null;
  }

  /**
   * @param instead what this device was paired as before: paired anew it is one device, not two
   * @returns the device, called so that no other is called the same, with the cookie that makes it one
   */
  pair(name: string, access: Access, instead: PairedId | null): { device: StoredDevice; cookie: string } {
    const secret = newSecret();
    const now = Math.round(this.#parts.now());
    const id = pairedIdSchema.parse(this.#parts.newId());
    const device = {
      id,
      name: this.#ownName(name, instead),
      access,
      secretHash: hashOf(secret),
      pairedAt: now,
      seenAt: now,
    };
    this.#parts.store.add(device);
    this.#devices.set(id, device);
    if (instead) this.end(instead);
    return { device, cookie: this.#setCookie(`${id}.${secret}`, COOKIE_FOR_S) };
  }

  /** Ends its pairing. @returns false when it was not paired */
  end(id: PairedId): boolean {
    if (!this.#devices.has(id)) return false;
    this.#parts.store.remove(id);
    this.#devices.delete(id);
    for (const heard of this.#gone) heard(id);
    return true;
  }

  /** The same cookie for another 400 days. @param cookies the header, of a device that is paired */
  renewed(cookies: string | undefined): string {
    return this.#setCookie(parseCookie(cookies ?? '')[this.#cookieName] ?? '', COOKIE_FOR_S);
  }

  /** What takes the cookie away. */
  cookieGone(): string {
    return this.#setCookie('', 0);
  }

  /** `Deck, Android 2` where another is called `Deck, Android`: an owner who ends one must know which. */
  #ownName(name: string, instead: PairedId | null): string {
    const taken = new Set(this.list().flatMap((device) => (device.id === instead ? [] : [device.name])));
    let own = name;
    for (let nth = 2; taken.has(own); nth += 1) own = `${name} ${nth}`;
    return own;
  }

  #seen(device: StoredDevice): StoredDevice {
    const now = Math.round(this.#parts.now());
    if (now - device.seenAt < SEEN_EVERY_MS) return device;
    const seen = { ...device, seenAt: now };
    this.#parts.store.seen(device.id, now);
    this.#devices.set(device.id, seen);
    return seen;
  }

  #setCookie(value: string, maxAge: number): string {
    const { isSecure } = this.#parts;
    const kept = { path: '/', httpOnly: true, sameSite: 'strict', secure: isSecure, maxAge } as const;
    return stringifySetCookie({ name: this.#cookieName, value, ...kept });
  }
}

/** No device has this id. */
const NOBODY = pairedIdSchema.parse('0'.repeat(32));
