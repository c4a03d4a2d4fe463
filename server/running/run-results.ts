import type { RunId } from '../../shared-types/brand.ts';
import type { SetResults, SwimmerResults } from '../../shared-types/results.ts';
import type { Sheet } from '../../shared-types/sheet.ts';
import type { ResultsAnswer, ShownSet, ShownSwimmer } from '../../shared-types/wire/results.ts';
import { judgementsOf } from '../results/hits.ts';
import { inForce } from '../results/run-index.ts';
import { setResultsOf } from '../results/set-results.ts';
import type { Store } from '../store/store.ts';
import { knowledgeOf } from './knowledge.ts';
import type { MarkKeeper } from './mark-keeper.ts';

/**
 * What the times of a run say, of one on the wall up to now.
 * @param role which names are written: the desk has them in full, a deck the short ones
 * @returns null when there is no such run
 */
export function runResults(
  { store, marks }: { readonly store: Store; readonly marks: MarkKeeper },
  id: RunId,
  role: 'deck' | 'desk',
): ResultsAnswer | null {
  const stored = store.runs.run(id);
  const run = store.runList.summary(id);
  const swum = marks.swumRun(id);
  if (!stored || !run || !swum) return null;
  const sheet = inForce(swum.versions);
  const sets = setResultsOf(swum, knowledgeOf(stored, sheet)).map((set) => shownSet(sheet, set));
  const { fullLabels, shortLabels } = stored.pinned;
  return { run, course: sheet.course, labels: role === 'desk' ? fullLabels : shortLabels, sets };
}

/** What is shown of a set: with its section, and each rep held against its target. */
export function shownSet(sheet: Sheet, results: SetResults): ShownSet {
  const of = sheet.sets[results.set];
  return {
    ...results,
    section: sheet.sections[of?.section ?? 0]?.name ?? '',
    detail: of?.detail ?? '',
    swimmers: results.swimmers.map(shownSwimmer),
  };
}

function shownSwimmer({ change: _, lead, hits, reps, ...results }: SwimmerResults): ShownSwimmer {
  return {
    ...results,
    hits,
    lead: { ...lead, metrics: lead.metrics.filter((metric) => metric !== 'change') },
    reps: reps.map((rep) => ({
      ...rep,
      judgements: judgementsOf(rep, hits.toleranceMsPer50).map(({ distance, verdict }) => ({ distance, verdict })),
    })),
  };
}
