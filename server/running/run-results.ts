import type { RunId } from '../../shared-types/brand.ts';
import type { RepLoad } from '../../shared-types/loads.ts';
import { isKnown, type SetResults, type SwimmerResults } from '../../shared-types/results.ts';
import type { Rig } from '../../shared-types/rig.ts';
import type { Sheet, SheetSet } from '../../shared-types/sheet.ts';
import type { LinesAnswer, ResultsAnswer, ShownSet, ShownSwimmer } from '../../shared-types/wire/results.ts';
import { RESISTED_CAUTION } from '../planning/compile/cautions.ts';
import { judgementsOf } from '../results/hits.ts';
import { ropeOf } from '../results/loads.ts';
import { loadIn } from '../results/power.ts';
import { inForce } from '../results/run-index.ts';
import { type Knowledge, setResultsOf } from '../results/set-results.ts';
import type { StoredRun } from '../store/run-store.ts';
import type { Store } from '../store/store.ts';
import { knowledgeOf } from './knowledge.ts';
import { type LoadsKnown, loadsKnown } from './loads.ts';
import type { RunKeeper } from './run-keeper.ts';

/**
 * What the times of a run say, of one on the wall up to now, held against what was swum before.
 * @param role which names are written: the desk has them in full, a deck the short ones
 * @returns null when there is no such run
 */
export async function runResults(
  store: Store,
  { marks, history }: Pick<RunKeeper, 'marks' | 'history'>,
  id: RunId,
  role: 'deck' | 'desk',
): Promise<ResultsAnswer | null> {
  const stored = store.runs.run(id);
  if (!stored) return null;
  await history.upToDate(stored.loadedAt);
  const run = store.runList.summary(id);
  const swum = marks.swumRun(id);
  if (!run || !swum) return null;
  const sheet = inForce(swum.versions);
  const loads = loadsKnown(store, id, sheet);
  const known = knowledgeOf(stored, sheet, { pool: store.pool.pool(), loads });
  const knowledge = { ...known, earlier: earlierThan(stored, store) };
  const rig = knowledge.power ?? {};
  const sets = setResultsOf(swum, knowledge).map((set) => shownSet(sheet, set, { loads, rig }));
  const { fullLabels, shortLabels } = stored.pinned;
  return { run, course: sheet.course, labels: role === 'desk' ? fullLabels : shortLabels, sets };
}

/** What comes first of that for each swimmer, of the sets that somebody has left on. */
export function linesOf({ run, labels, sets }: ResultsAnswer): LinesAnswer {
  const begun = sets.filter(({ swimmers }) => swimmers.some(({ reps }) => reps.some(({ leftAt }) => leftAt !== null)));
  return {
    run: run.id,
    markSeq: run.markSeq,
    labels,
    sets: begun.map(({ set, words, detail, swimmers }) => ({
      set,
      words: [words, detail].filter((part) => part !== '').join(' '),
      swimmers: swimmers.flatMap(lineOf),
    })),
  };
}

/** In the lane that the swimmer left in last, or is to leave in. */
function lineOf({ swimmer, reps, lead }: ShownSwimmer): LinesAnswer['sets'][number]['swimmers'] {
  const left = reps.filter(({ leftAt }) => leftAt !== null);
  const rep = left[left.length - 1] ?? reps[0];
  return rep ? [{ swimmer, lane: rep.lane, line: lead.line }] : [];
}

interface Pulling {
  readonly loads: LoadsKnown;
  readonly rig: Pick<Rig, 'ratio' | 'stackHeightM'>;
}

/** What is shown of a set: with its section, and each rep held against its target. */
export function shownSet(sheet: Sheet, results: SetResults, { loads, rig }: Pulling): ShownSet {
  const of = sheet.sets[results.set];
  return {
    ...results,
    section: sheet.sections[of?.section ?? 0]?.name ?? '',
    detail: of?.detail ?? '',
    swimmers: results.swimmers.map((own) => ({ ...shownSwimmer(own), ...written(loads(own.swimmer, results.set)) })),
    ...pulledIn(sheet, results.set, rig),
  };
}

const written = (loads: readonly RepLoad[]): Pick<ShownSwimmer, 'loads'> =>
  loads.length > 0 ? { loads: [...loads] } : {};

const timedOver = ({ timedDistance }: SheetSet): Pick<Rig, 'timedDistance'> =>
  timedDistance === undefined ? {} : { timedDistance };

function pulledIn({ sets }: Sheet, set: number, rig: Pulling['rig']): Pick<ShownSet, 'pulled'> {
  const of = sets[set];
  const against = of ? ropeOf(of) : null;
  if (!of || against === null) return {};
  const said = loadIn(of.equipment);
  const isFirst = sets.findIndex((one) => ropeOf(one) !== null) === set;
  return {
    pulled: {
      against,
      ...(isKnown(said) ? { saidKg: said } : {}),
      ...(against === 'pulley' ? { rig: { ...rig, ...timedOver(of) } } : {}),
      ...(isFirst ? { caution: RESISTED_CAUTION } : {}),
    },
  };
}

/** What sets came to in runs before; those that were only rehearsed count for one that was rehearsed, too. */
function earlierThan({ id: run, loadedAt, rehearsed }: StoredRun, { history }: Store): Required<Knowledge>['earlier'] {
  return (swimmer, signature, begunAt) => {
    const last = history.lastMean(swimmer, signature, { run, before: begunAt ?? loadedAt, rehearsed });
    return last ? [last] : [];
  };
}

function shownSwimmer({ hits, reps, ...results }: SwimmerResults): ShownSwimmer {
  return {
    ...results,
    hits,
    reps: reps.map((rep) => ({
      ...rep,
      judgements: judgementsOf(rep, hits.toleranceMsPer50).map(({ distance, verdict }) => ({ distance, verdict })),
    })),
  };
}
