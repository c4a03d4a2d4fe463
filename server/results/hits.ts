import { DEFAULT_TOLERANCE_MS_PER_50 } from '../../shared-types/pool.ts';
import type { Hits, RepTime } from '../../shared-types/results.ts';
import type { Target } from '../../shared-types/sheet.ts';

/** held: within the tolerance of the target; under: too fast by more than that; unjudged: no time where it ends. */
export type Verdict = 'held' | 'under' | 'missed' | 'unjudged';

/** A rep, or a paced part of one, held against its target. */
export interface Judgement {
  /** The rep's number in the set. */
  readonly rep: number;
  /** Of what was judged, in the course's unit. */
  readonly distance: number;
  readonly verdict: Verdict;
}

type Judged = Pick<RepTime, 'rep' | 'distance' | 'ms' | 'missing' | 'splits' | 'target'>;

/** A stretch from the last place where the time is known. */
interface Stretch {
  readonly parts: Target['splits'];
  /** Where it begins: distance into the rep, and by target and clock the running time there, ms. */
  readonly from: { readonly distance: number; readonly targetMs: number; readonly ms: number };
}

const SEND_OFF: Stretch['from'] = { distance: 0, targetMs: 0, ms: 0 };

/**
 * What a rep's times say about what was to be held in it. Each stretch between two places where the time is known is
 * judged by its own time, when all of it is paced: an easy part is neither judged nor does it hide in the time of a
 * paced one. So of a rep with an easy end a finish alone says nothing about the paced part.
 */
export function judgementsOf(rep: Judged, toleranceMsPer50: number): Judgement[] {
  if (rep.missing === 'not swum') return [];
  const judgements: Judgement[] = [];
  let stretch: Stretch = { parts: [], from: SEND_OFF };
  for (const part of rep.target.splits) {
    stretch = { ...stretch, parts: [...stretch.parts, part] };
    const ms = timeAt(rep, part.distance);
    if (ms === null) continue;
    judgements.push(...judged(rep.rep, stretch, ms, toleranceMsPer50));
    stretch = { parts: [], from: { distance: part.distance, targetMs: part.ms, ms } };
  }
  return [...judgements, ...judged(rep.rep, stretch, null, toleranceMsPer50)];
}

const timeAt = ({ distance: whole, ms, splits }: Judged, distance: number): number | null =>
  (distance === whole ? ms : splits.find((split) => split.distance === distance)?.ms) ?? null;

function judged(rep: number, { parts, from }: Stretch, ms: number | null, toleranceMsPer50: number): Judgement[] {
  const last = parts[parts.length - 1];
  if (!last || parts.every(({ paced }) => !paced)) return [];
  const distance = pacedIn(parts, from.distance);
  if (ms === null || parts.some(({ paced }) => !paced)) return [{ rep, distance, verdict: 'unjudged' }];
  const over = ms - from.ms - (last.ms - from.targetMs);
  return [{ rep, distance, verdict: verdictOn(over, (toleranceMsPer50 * distance) / 50) }];
}

function pacedIn(parts: Target['splits'], from: number): number {
  const starts = [from, ...parts.map(({ distance }) => distance)];
  return parts.reduce((sum, part, place) => sum + (part.paced ? part.distance - (starts[place] ?? 0) : 0), 0);
}

function verdictOn(overMs: number, toleranceMs: number): Verdict {
  if (overMs > toleranceMs) return 'missed';
  return overMs < -toleranceMs ? 'under' : 'held';
}

const isHit = ({ verdict }: Judgement): boolean => verdict === 'held' || verdict === 'under';

/** How many reps, or paced parts of reps, were swum at their target. */
export function hitsOf(reps: readonly Judged[], toleranceMsPer50 = DEFAULT_TOLERANCE_MS_PER_50): Hits {
  const judgements = reps.flatMap((rep) => judgementsOf(rep, toleranceMsPer50));
  const hits = judgements.filter(isHit);
  const unjudged = judgements.filter(({ verdict }) => verdict === 'unjudged').length;
  return {
    toleranceMsPer50,
    judged: judgements.length - unjudged,
    hits: hits.length,
    under: hits.filter(({ verdict }) => verdict === 'under').length,
    unjudged,
    longestRun: longestRun(judgements),
    firstMiss: judgements.find(({ verdict }) => verdict === 'missed')?.rep ?? null,
    pacedDistance: hits.reduce((sum, { distance }) => sum + distance, 0),
  };
}

function longestRun(judgements: readonly Judgement[]): number {
  let longest = 0;
  let run = 0;
  for (const judgement of judgements) {
    run = isHit(judgement) ? run + 1 : 0;
    longest = Math.max(longest, run);
  }
  return longest;
}
