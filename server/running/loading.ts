import { type Instant, runIdSchema } from '../../shared-types/brand.ts';
import { withNames } from '../../shared-types/message.ts';
import type { Pool } from '../../shared-types/pool.ts';
import type { Sheet } from '../../shared-types/sheet.ts';
import type { Squad } from '../../shared-types/squad.ts';
import type { StoredPractice } from '../../shared-types/wire/desk.ts';
import { failure, type KnownFailure } from '../failure.ts';
import { planPractice } from '../planning/plan.ts';
import type { RunSettings } from '../store/pool-store.ts';
import type { StoredRun } from '../store/run-store.ts';
import { fullLabels, shortLabels } from './labels.ts';
import { canonicalJson, sheetHash } from './sheet-hash.ts';

/** A practice planned for the wall. */
export interface Loading {
  readonly sheet: Sheet;
  /** Its canonical JSON. */
  readonly sheetText: string;
  /** [RUN5] The run it becomes, with everything pinned. */
  runFrom(put: Put): StoredRun;
}

/** How a practice is put on the wall. */
interface Put {
  readonly id: string;
  readonly loadedAt: Instant;
  readonly settings: RunSettings;
  /** Only tried out, nobody swims. */
  readonly rehearsed: boolean;
  /** For the demo's swimmers. */
  readonly demo: boolean;
}

/** Names are kept as labels only, so that deleting a swimmer can remove them. */
const withoutNames = ({ swimmers }: Squad): Squad => ({
  swimmers: swimmers.map((swimmer) => ({ ...swimmer, name: '·' })),
});

/**
 * [CMD7] [RUN5] A run to which those can come who were not in the squad when it was put on the wall. Whoever was stays
 * as they were; who is new has no lane until they join one.
 * @returns null when nobody is new, or the run cannot be changed
 */
export function withNewcomers({ pinned, ...stored }: StoredRun, squad: Squad): StoredRun | null {
  const { plan } = pinned;
  const known = new Set(plan?.squad.swimmers.map(({ id }) => id));
  const newcomers = squad.swimmers.filter(({ id }) => !known.has(id));
  if (!plan || newcomers.length === 0) return null;
  const without = withoutNames({ swimmers: newcomers }).swimmers.map(
    ({ lane: _, order: _order, ...swimmer }) => swimmer,
  );
  const [short, full] = [shortLabels(squad.swimmers), fullLabels(newcomers)];
  const shortOfNew = Object.fromEntries(newcomers.map(({ id }) => [id, short[id] ?? '']));
  return {
    ...stored,
    pinned: {
      ...pinned,
      shortLabels: { ...pinned.shortLabels, ...shortOfNew },
      fullLabels: { ...pinned.fullLabels, ...full },
      plan: { ...plan, squad: { swimmers: [...plan.squad.swimmers, ...without] } },
    },
  };
}

/** Plans a version of a practice with the squad and the pool as they are. A text with errors cannot go on the wall. */
export function loadingOf(
  practice: StoredPractice,
  squad: Squad,
  pool: Pool,
): { ok: true; loading: Loading } | KnownFailure {
  const { sheet, messages } = planPractice(practice.text, squad, pool);
  if (!sheet) {
    const error = messages.find(({ severity }) => severity === 'error');
    const text = withNames(error?.text ?? 'The practice cannot be read.', fullLabels(squad.swimmers));
    return failure('practice-has-errors', text, {
      ...(error ? { place: `line ${error.line}, column ${error.column}` } : {}),
      ...(error?.fix === undefined ? {} : { fix: error.fix }),
    });
  }
  const sheetText = canonicalJson(sheet);
  const pinned = {
    // Of the whole squad: somebody who has no lane now may join one.
    shortLabels: shortLabels(squad.swimmers),
    fullLabels: fullLabels(squad.swimmers),
    title: practice.title,
    plan: { text: practice.text, squad: withoutNames(squad), pool },
  };
  const runFrom: Loading['runFrom'] = ({ id, loadedAt, settings, rehearsed, demo }) => ({
    id: runIdSchema.parse(id),
    hash: sheetHash(sheetText),
    practice: practice.id,
    practiceVersion: practice.version,
    loadedAt,
    rehearsed,
    pinned: { ...pinned, settings, ...(demo ? { demo } : {}) },
  });
  return { ok: true, loading: { sheet, sheetText, runFrom } };
}
