import { signal } from '@preact/signals';
import { z } from 'zod';
import { type RunId, runIdSchema } from '../../shared-types/brand.ts';
import type { RepStep, Sheet } from '../../shared-types/sheet.ts';
import { TAKINGS, type Taking } from '../../shared-types/timed-places.ts';
import type { OutboxStorage } from '../common/outbox.ts';

const KEY = 'farwall-taking';

const keptSchema = z.object({ run: runIdSchema, bySet: z.record(z.string(), z.enum(TAKINGS)) });
type Kept = z.infer<typeof keptSchema>;

/** What a set is known by in all versions of a sheet that has changed as it is swum. */
const keyOf = ({ sets }: Sheet, set: number): string => sets[set]?.key ?? String(set);

/**
 * What is timed of sets with paced and easy parts, as chosen on this tablet for the practice on the wall. It survives a
 * reload; another practice begins anew.
 */
export class TakingChoices {
  readonly #storage: OutboxStorage | null;
  readonly #kept = signal<Kept | null>(null);

  /** @param storage null where the browser forbids it: choices then last as long as the page */
  constructor(storage: OutboxStorage | null) {
    this.#storage = storage;
    const read = keptSchema.safeParse(jsonOf(storage?.getItem(KEY) ?? ''));
    if (read.success) this.#kept.value = read.data;
  }

  of(run: RunId, sheet: Sheet, { set }: Pick<RepStep, 'set'>): Taking {
    const kept = this.#kept.value;
    return (kept?.run === run ? kept.bySet[keyOf(sheet, set)] : undefined) ?? 'part';
  }

  choose(run: RunId, sheet: Sheet, set: number, taking: Taking): void {
    const before = this.#kept.value;
    const bySet = { ...(before?.run === run ? before.bySet : {}), [keyOf(sheet, set)]: taking };
    this.#kept.value = { run, bySet };
    try {
      this.#storage?.setItem(KEY, JSON.stringify(this.#kept.value));
    } catch {
      // A full storage: the choice lives as long as this page does.
    }
  }
}

function jsonOf(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}
