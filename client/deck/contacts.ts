/** More fingers than this on the glass at once are none: a palm, a towel, a splash. */
const MOST_AT_ONCE = 4;
/** What a contact did that has been down for longer than this was meant, ms. */
const MEANT_AFTER_MS = 700;

/** What of a pointer event matters here. */
export type Contact = Pick<PointerEvent, 'pointerId' | 'pointerType' | 'isPrimary' | 'timeStamp'>;

interface Held {
  readonly downAt: number;
  /** Takes back what the contact did. */
  withdraw: (() => void) | null;
}

/** The touches that lie on the glass now. When there are too many, none of them counts, the first ones neither. */
export class Contacts {
  readonly #down = new Map<number, Held>();

  down({ pointerId, pointerType, isPrimary, timeStamp }: Contact): void {
    if (pointerType !== 'touch') return;
    // A primary touch is the only one there is: whatever else is known here has ended unseen.
    if (isPrimary) this.#down.clear();
    this.#down.set(pointerId, { downAt: timeStamp, withdraw: null });
    if (this.areTooMany) this.#withdrawSince(timeStamp - MEANT_AFTER_MS);
  }

  up({ pointerId }: Pick<Contact, 'pointerId'>): void {
    this.#down.delete(pointerId);
  }

  get areTooMany(): boolean {
    return this.#down.size > MOST_AT_ONCE;
  }

  /** What this contact did can be taken back until it is lifted. */
  did({ pointerId }: Pick<Contact, 'pointerId'>, withdraw: () => void): void {
    const held = this.#down.get(pointerId);
    if (held) held.withdraw = withdraw;
  }

  #withdrawSince(since: number): void {
    for (const held of this.#down.values()) {
      if (held.downAt >= since) held.withdraw?.();
      held.withdraw = null;
    }
  }
}

/** Follows the contacts of a page, before anything on it is told of them. */
export function contactsOn(page: Pick<Window, 'addEventListener'>): Contacts {
  const contacts = new Contacts();
  page.addEventListener('pointerdown', (event) => contacts.down(event), true);
  page.addEventListener('pointerup', (event) => contacts.up(event), true);
  page.addEventListener('pointercancel', (event) => contacts.up(event), true);
  return contacts;
}
