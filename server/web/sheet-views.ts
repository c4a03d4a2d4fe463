import { promisify } from 'node:util';
import { gzip } from 'node:zlib';
import type { SheetHash } from '../../shared-types/brand.ts';
import { sheetSchema } from '../../shared-types/sheet.ts';
import type { Role } from '../../shared-types/wire/protocol.ts';
import type { RunStore } from '../store/run-store.ts';

/** A sheet as a screen gets it. */
export interface SheetView {
  readonly plain: string;
  readonly gzipped: Buffer;
}

const compress = promisify(gzip);

/** Views kept: those of the practice on the wall and of a few before it. */
const MOST_VIEWS = 8;

/** What a wall gets: where the numbers come from, and what the planning had to say, is for coaches only. */
export function wallText(sheetText: string): string {
  const sheet = sheetSchema.parse(JSON.parse(sheetText));
  const targets = sheet.targets.map(({ basis: _, ...target }) => target);
  return JSON.stringify({ ...sheet, targets, messages: [] });
}

const viewOf = async (plain: string): Promise<SheetView> => ({ plain, gzipped: await compress(plain) });

/** Sheets as text, by role, compressed once. */
export class SheetViews {
  readonly #runs: RunStore;
  readonly #views = new Map<string, Promise<SheetView>>();

  constructor(runs: RunStore) {
    this.#runs = runs;
  }

  /** @returns null when no such sheet is stored */
  view(hash: SheetHash, role: Role): Promise<SheetView> | null {
    const key = `${hash} ${role === 'wall' ? 'wall' : 'coach'}`;
    const known = this.#views.get(key);
    if (known) return known;
    const text = this.#runs.sheetText(hash);
    if (text === null) return null;
    const made = viewOf(role === 'wall' ? wallText(text) : text);
    this.#views.set(key, made);
    const [oldest] = this.#views.keys();
    if (this.#views.size > MOST_VIEWS && oldest !== undefined) this.#views.delete(oldest);
    return made;
  }
}
