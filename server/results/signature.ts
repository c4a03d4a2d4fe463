import type { Course } from '../../shared-types/pool.ts';
import type { RepTime, Signature } from '../../shared-types/results.ts';
import type { SheetSet } from '../../shared-types/sheet.ts';
import { MEDLEY_ORDER } from '../../shared-types/squad.ts';
import { formatClock } from '../../shared-types/time.ts';
import { signatureWords } from '../planning/set-signature.ts';

type SignedSet = Pick<SheetSet, 'style' | 'activity' | 'equipment' | 'release' | 'restMs' | 'detail'>;
type SignedRep = Pick<RepTime, 'step' | 'distance' | 'timedMs' | 'cycleMs' | 'stroke' | 'start'>;

/**
 * What a set is known again by, as one swimmer was to swim it: `race pace: 3 × 4 × 50 free, from a push, SCM`, and
 * strictly with send-off and effort. Times from a push and from a dive never meet: the start is in both.
 * @param reps all the swimmer's reps of the set, swum or not
 */
export function signatureOfSet(set: SignedSet, reps: readonly SignedRep[], course: Course): Signature {
  const [first] = reps;
  const rounds = roundsOf(reps);
  const words = signatureWords({
    reps: repsText(rounds),
    size: first?.distance === undefined ? formatClock(first?.timedMs ?? 0) : String(first.distance),
    stroke: strokeText(rounds[0] ?? []),
    activity: set.activity,
    start: first?.start ?? 'push',
    equipment: set.equipment,
    course,
  });
  const loose = `${set.style}: ${words}`;
  const effort = set.detail === '' ? [] : [set.detail];
  return { loose, strict: [loose, sendOffText(set, rounds), ...effort].join('; ') };
}

/** `12.1.2.4` is rep 4 of its round, `12.1.2.4.h3` of its round and heat. */
const roundOf = ({ step }: SignedRep): string => step.replace(/\.\d+(?:\.h\d+)?$/, '');

function roundsOf(reps: readonly SignedRep[]): SignedRep[][] {
  const rounds = new Map<string, SignedRep[]>();
  for (const rep of reps) rounds.set(roundOf(rep), [...(rounds.get(roundOf(rep)) ?? []), rep]);
  return [...rounds.values()];
}

/** `4`, of three rounds `3 × 4`; of rounds that differ `4 + 3`. */
function repsText(rounds: readonly (readonly unknown[])[]): string {
  const counts = rounds.map(({ length }) => length);
  const [first = 0] = counts;
  if (counts.some((count) => count !== first)) return counts.join(' + ');
  return counts.length > 1 ? `${counts.length} × ${first}` : String(first);
}

/** As the coach wrote it: strokes that change by rep in the order of a medley are `IM order`. */
function strokeText(round: readonly SignedRep[]): string {
  const strokes = round.map(({ stroke }) => stroke);
  const [first = ''] = strokes;
  if (strokes.every((stroke) => stroke === first)) return first;
  const isMedley = strokes.every((stroke, rep) => stroke === MEDLEY_ORDER[rep % MEDLEY_ORDER.length]);
  return isMedley ? 'IM order' : [...new Set(strokes)].join(' + ');
}

/**
 * `on go`, `rest :20`, `@ 1:10`, `@ 1:10/1:05/1:00` where the intervals change. Of a written rest old sheets have only
 * the cycles that came of it, so theirs are strictly the same only when the targets left the same send-offs.
 */
function sendOffText({ release, restMs }: SignedSet, rounds: readonly (readonly SignedRep[])[]): string {
  if (release === undefined) return 'send-off not known';
  if (release === 'go') return 'on go';
  if (restMs !== undefined) return `rest ${formatClock(restMs)}`;
  const texts = rounds.map((round) => {
    const cycles = round.map(({ cycleMs }) => formatClock(cycleMs));
    return new Set(cycles).size === 1 ? (cycles[0] ?? '') : cycles.join('/');
  });
  const different = [...new Set(texts)].join(', ');
  return release === 'rest' ? `by rest @ ${different}` : `@ ${different}`;
}
