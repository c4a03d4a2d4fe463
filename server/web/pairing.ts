import type { Instant } from '../../shared-types/brand.ts';
import type { Access } from '../../shared-types/wire/access.ts';
import { CODE_FOR_MS, CODE_LENGTH, codeAsMeant } from '../../shared-types/wire/pairing.ts';
import { failure, type KnownFailure } from '../failure.ts';
import type { DeviceStore } from '../store/device-store.ts';
import { hashOf, isSecretOf, KEY_LENGTH, randomCode } from './secrets.ts';

/** Wrong codes count for so long, ms. */
const WRONG_FOR_MS = 5 * 60 * 1000;
const MOST_WRONG_FROM_AN_ADDRESS = 10;
const MOST_WRONG = 30;

const MINUTE_MS = 60 * 1000;

const WRONG = failure('wrong-code', 'This is not the code that the desk shows now.', {
  fix: 'Look at the desk: a code is for one device and for 10 minutes.',
});

const WRONG_KEY = failure('wrong-code', 'This address has been used, or the server was started anew since.', {
  fix: 'Start the server anew and open the address that it prints then, or pair by a code of an owner’s desk.',
});

const tooManyTries = (waitMs: number): KnownFailure => {
  const minutes = Math.ceil(waitMs / MINUTE_MS);
  return failure('too-many-tries', 'There were too many wrong codes.', {
    fix: `Wait ${minutes === 1 ? 'a minute' : `${minutes} minutes`}, then type the one that the desk shows.`,
  });
};

interface Shown {
  readonly hash: string;
  readonly access: Access;
  readonly until: number;
}

/**
 * Who may become a paired device: who knows the code that the desk shows, or the key that the server's terminal shows.
 * Each is worth something once. Wrong ones are counted in the database, so that starting anew does not help.
 */
export class Pairing {
  readonly #store: DeviceStore;
  readonly #now: () => Instant;
  /** For the terminal. Whoever has it becomes an owner. */
  readonly ownerKey = randomCode(KEY_LENGTH);
  #keyHash: string | null = hashOf(this.ownerKey);
  #shown: Shown | null = null;

  /** @param now the pool's clock */
  constructor(store: DeviceStore, now: () => Instant) {
    this.#store = store;
    this.#now = now;
  }

  /** A code for one device, in place of the one that was shown. */
  show(access: Access): { readonly code: string; readonly until: number } {
    const code = randomCode(CODE_LENGTH);
    const until = Math.round(this.#now()) + CODE_FOR_MS;
    this.#shown = { hash: hashOf(code), access, until };
    return { code, until };
  }

  hide(): void {
    this.#shown = null;
  }

  /** What a code makes of the device that has it, once. @param address where it was typed */
  redeem(typed: string, address: string): { readonly ok: true; readonly access: Access } | KnownFailure {
    const code = codeAsMeant(typed);
    // Nobody guesses 160 bits, and nobody who types wrong codes is to keep the owner out.
    if (this.#redeemsKey(code)) return { ok: true, access: 'owner' };
    const waitMs = this.#waitMs(address);
    if (waitMs > 0) return tooManyTries(waitMs);
    const access = this.#accessFor(code);
    if (access) return { ok: true, access };
    const now = this.#now();
    this.#store.wrongCode(now, address, now - WRONG_FOR_MS);
    return code.length === KEY_LENGTH ? WRONG_KEY : WRONG;
  }

  #redeemsKey(code: string): boolean {
    if (this.#keyHash === null || !isSecretOf(code, this.#keyHash)) return false;
    this.#keyHash = null;
    return true;
  }

  #accessFor(code: string): Access | null {
    const shown = this.#shown;
    if (!shown || this.#now() >= shown.until || !isSecretOf(code, shown.hash)) return null;
    this.#shown = null;
    return shown.access;
  }

  /** How long no code is taken from this address. */
  #waitMs(address: string): number {
    const now = this.#now();
    const wrong = this.#store.wrongCodes(now - WRONG_FOR_MS, now);
    const here = wrong.filter((each) => each.address === address);
    const counts = [here[MOST_WRONG_FROM_AN_ADDRESS - 1], wrong[MOST_WRONG - 1]];
    return Math.max(0, ...counts.map((last) => (last ? last.at + WRONG_FOR_MS - now : 0)));
  }
}
