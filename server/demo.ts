import { readFile } from 'node:fs/promises';
import { practiceIdSchema } from '../shared-types/brand.ts';
import type { PracticeSummary } from '../shared-types/wire/desk.ts';
import type { PoolClock } from './clock.ts';
import { bringBackDemo } from './demo-removal.ts';
import { failure, type KnownFailure } from './failure.ts';
import { readSquadCsv } from './planning/squad-csv.ts';
import type { Store } from './store/store.ts';
import { titleOf } from './title.ts';

/** One practice a style, in the order in which they are offered. */
const PRACTICES = ['race-pace', 'active-rest', 'best-average', 'stand-up', 'power'] as const;

const demoFile = (name: string): Promise<string> => readFile(new URL(`demo/${name}`, import.meta.url), 'utf8');

interface DemoParts {
  readonly clock: PoolClock;
  readonly newId: () => string;
}

/**
 * Adds the invented squad and practices, to a store that has neither squad nor practice. What was removed before comes
 * back as it was, so that whoever has swum is the same swimmer again.
 * @throws Error when the demo's own files are missing or cannot be read: that is a bug
 */
export async function addDemo(
  store: Store,
  { clock, newId }: DemoParts,
): Promise<{ ok: true; practices: PracticeSummary[] } | KnownFailure> {
  const [csv, ...texts] = await Promise.all([
    demoFile('squad.csv'),
    ...PRACTICES.map((name) => demoFile(`${name}.txt`)),
  ]);
  const { squad, problems } = readSquadCsv(csv, newId);
  if (problems[0]) throw new Error(`the demo squad cannot be read: ${JSON.stringify(problems[0])}`);
  if (store.squad.squad().swimmers.length > 0 || store.practices.list().length > 0) {
    return failure('not-empty', 'There are already swimmers or practices here.', {
      fix: 'The demo is for an empty start only.',
    });
  }
  const savedAt = Math.round(clock.now());
  store.inTransaction(() => {
    bringBackDemo(store);
    if (store.squad.squad().swimmers.length === 0) store.squad.replace(squad, true);
    if (store.practices.list().length > 0) return;
    texts.forEach((text, place) => {
      const draft = { id: practiceIdSchema.parse(newId()), text, title: titleOf(text), baseVersion: 0 };
      // Lists have the newest first: the first of ours counts as the last saved.
      store.practices.save({ ...draft, savedAt: savedAt - place, demo: true });
    });
  });
  return { ok: true, practices: store.practices.list() };
}
