import { setImmediate as nextTurn } from 'node:timers/promises';
import type { RunId, SwimmerId } from '../../shared-types/brand.ts';
import type { Mark } from '../../shared-types/marks.ts';
import type { ExportedPractice, SwimmerExport } from '../../shared-types/wire/privacy.ts';
import { inForce, type SwumRun } from '../results/run-index.ts';
import { setResultsOf } from '../results/set-results.ts';
import type { Store } from '../store/store.ts';
import type { RunKeeper } from './run-keeper.ts';

interface Parts {
  readonly store: Store;
  readonly keeper: Pick<RunKeeper, 'marks' | 'history'>;
  /** On the pool's clock, ms since 1970. */
  readonly now: () => number;
  /** Takes note of a practice that cannot be read. */
  readonly log: (error: unknown) => void;
}

const written = (at: number): string => new Date(at).toISOString();

/** All that is stored of a swimmer; null when nothing is, under a name. Between two practices others get their turn. */
export async function exportOf(parts: Parts, id: SwimmerId): Promise<SwimmerExport | null> {
  const { store, keeper, now } = parts;
  const name = store.storedOf.nameOf(id);
  if (name === null) return null;
  await keeper.history.upToDate(null);
  const runs = new Set([...store.erasure.pinnedIn(id).map(({ run_id }) => run_id), ...store.erasure.markedIn(id)]);
  const practices: ExportedPractice[] = [];
  for (const run of runs) {
    const practice = practiceOf(parts, run, id);
    if (practice) practices.push(practice);
    await nextTurn();
  }
  return {
    exportedAt: written(now()),
    name,
    swimmer: store.storedOf.inSquad(id),
    before: store.storedOf.before(id),
    practices: practices.sort((a, b) => a.putOnWallAt.localeCompare(b.putOnWallAt)),
    tables: store.storedOf.rows(id),
  };
}

/** One whose sheet is damaged is left out, so that the others can still be had. */
function practiceOf({ store, keeper, log }: Parts, run: RunId, id: SwimmerId): ExportedPractice | null {
  try {
    const stored = store.runs.run(run);
    const swum = keeper.marks.swumRunAside(run);
    if (!stored || !swum) return null;
    return {
      run,
      title: stored.pinned.title ?? null,
      putOnWallAt: written(stored.loadedAt),
      rehearsed: stored.rehearsed,
      sets: setsOf(swum, id),
      marks: swum.marks.filter(({ swimmer }) => swimmer === id).map(exportedMark),
    };
  } catch (error) {
    log(error);
    return null;
  }
}

function setsOf(swum: SwumRun, id: SwimmerId): ExportedPractice['sets'] {
  const sheet = inForce(swum.versions);
  return setResultsOf(swum).flatMap(({ set, words, swimmers }) => {
    const own = swimmers.find(({ swimmer }) => swimmer === id);
    return own ? [{ words, detail: sheet.sets[set]?.detail ?? '', reps: own.reps }] : [];
  });
}

const exportedMark = ({ step, distance, pressedAt, ms, state, typed }: Mark): ExportedPractice['marks'][number] => ({
  step,
  distance,
  pressedAt: written(pressedAt),
  ms,
  state,
  ...(typed ? { typed } : {}),
});
