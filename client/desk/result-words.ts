import type { Instant } from '../../shared-types/brand.ts';
import { DEFAULT_TOLERANCE_MS_PER_50 } from '../../shared-types/pool.ts';
import { type ClockFace, formatSwimTime, timeOfDay } from '../../shared-types/time.ts';
import type { JudgedRep, ResultsAnswer, RunSummary, ShownSet } from '../../shared-types/wire/results.ts';
import { longDay } from './days.ts';
import { toleranceText } from './pool-fields.ts';
import { stateWords } from './today-words.ts';

/** `Fri 15 Jan 2027, 18:05` on the pool's clock. */
export const dayAndTime = (at: Instant, face: ClockFace): string => `${longDay(at, face)}, ${timeOfDay(at, face)}`;

export const runTitle = ({ title }: RunSummary): string => title ?? 'Untitled practice';

/** `finished, 412 times`, `running, on the wall, rehearsed, 1 time`. */
export function runWords({ state, live, rehearsed, times }: RunSummary): string {
  const taken = times === 0 ? 'no times' : `${times} ${times === 1 ? 'time' : 'times'}`;
  return `${stateWords(state)}${live ? ', on the wall' : ''}${rehearsed ? ', rehearsed' : ''}, ${taken}`;
}

/** `within 0.3 s a 50`; what nobody has swum yet is held to nothing. */
export function toleranceWords({ sets }: Pick<ResultsAnswer, 'sets'>): string {
  const ms = sets.flatMap(({ swimmers }) => swimmers)[0]?.hits.toleranceMsPer50 ?? DEFAULT_TOLERANCE_MS_PER_50;
  return `within ${toleranceText(ms)} s a 50`;
}

/** What became of a rep's target. */
export interface TargetWords {
  readonly verdict: 'held' | 'under' | 'missed' | 'unjudged' | 'some';
  readonly words: string;
}

/** Of one with several paced parts how many were held; null where nothing was to be held, or nothing came of it. */
export function targetWords({ judgements, missing }: Pick<JudgedRep, 'judgements' | 'missing'>): TargetWords | null {
  const [only, ...others] = judgements;
  if (!only || missing === 'not swum') return null;
  if (others.length === 0) {
    const isLost = only.verdict === 'unjudged';
    if (isLost && missing === 'not timed') return null;
    return { verdict: only.verdict, words: isLost ? 'no split' : only.verdict };
  }
  const judged = judgements.filter(({ verdict }) => verdict !== 'unjudged');
  const held = judged.filter(({ verdict }) => verdict !== 'missed');
  const words = judged.length === 0 ? 'no split' : `${held.length} of ${judged.length} held`;
  return { verdict: judged.length === 0 ? 'unjudged' : held.length === judged.length ? 'held' : 'some', words };
}

type TargetSplit = JudgedRep['target']['splits'][number];

/** Where a rep is paced first and easy from there on: the end of what is paced, else null. */
export function pacedOpening({ target: { splits } }: Pick<JudgedRep, 'target'>): TargetSplit | null {
  const easyFrom = splits.findIndex(({ paced }) => !paced);
  const isOpening = easyFrom > 0 && splits.slice(easyFrom).every(({ paced }) => !paced);
  return isOpening ? (splits[easyFrom - 1] ?? null) : null;
}

/** `30.0`, the target of the whole rep; where only its first part is paced, that part's: `50: 30.0`. */
export function targetText(rep: Pick<JudgedRep, 'target'>): string | null {
  const { ms, estimated } = rep.target;
  const about = estimated ? '≈ ' : '';
  const opening = pacedOpening(rep);
  if (opening) return `${opening.distance}: ${about}${formatSwimTime(opening.ms, 1)}`;
  return ms === null ? null : `${about}${formatSwimTime(ms, 1)}`;
}

/** What to write in place of a time: of a rep that has times on the way, that only its finish has none. */
export const missingWords = ({ missing, splits }: Pick<JudgedRep, 'missing' | 'splits'>): string =>
  missing === 'not timed' && splits.length > 0 ? 'finish not timed' : (missing ?? '');

/** Which round of its set a rep is in: `Round 2`, of rounds of rounds `Round 1.2`; empty where there are none. */
export function roundWords({ outerRound, round }: Pick<JudgedRep, 'outerRound' | 'round'>): string {
  const numbers = [outerRound, round].filter((number) => number !== undefined);
  return numbers.length === 0 ? '' : `Round ${numbers.join('.')}`;
}

/** What reps differ in, stroke or activity or both, said of one of them: `fly kick`; empty where they are all alike. */
export function kindWords(rep: SwumKind, all: readonly SwumKind[]): string {
  const differ = (of: (one: SwumKind) => string): boolean => new Set(all.map(of)).size > 1;
  const words = [differ(({ stroke }) => stroke) && rep.stroke, differ(({ activity }) => activity) && rep.activity];
  return words.filter((word) => word !== false).join(' ');
}

type SwumKind = Pick<JudgedRep, 'stroke' | 'activity'>;

/** The reps of whoever swims most of them: the columns of a set. */
export const mostReps = ({ swimmers }: Pick<ShownSet, 'swimmers'>): readonly JudgedRep[] =>
  swimmers.reduce<readonly JudgedRep[]>((most, { reps }) => (reps.length > most.length ? reps : most), []);

/** `Main: 8 × 50 free`. */
export const setHeading = ({ section, words }: Pick<ShownSet, 'section' | 'words'>): string =>
  section === '' ? words : `${section}: ${words}`;

/** Whether anything of a set was timed. */
export const hasTimes = ({ swimmers }: ShownSet): boolean =>
  swimmers.some(({ reps }) => reps.some(({ ms, splits }) => ms !== null || splits.length > 0));

/** What to say of a set without a single time. */
export function withoutTimes({ swimmers }: ShownSet): string {
  const reps = swimmers.flatMap((own) => own.reps);
  if (reps.every(({ missing }) => missing === 'not swum')) return 'Not swum.';
  if (reps.every(({ missing }) => missing !== 'not timed')) return 'Swum by the clock: nothing to time.';
  return 'Swum, but no times were taken.';
}
