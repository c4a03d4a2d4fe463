import type { Instant } from '../../shared-types/brand.ts';
import { DEFAULT_TOLERANCE_MS_PER_50 } from '../../shared-types/pool.ts';
import { type ClockFace, formatSwimTime, timeOfDay } from '../../shared-types/time.ts';
import type { JudgedRep, ResultsAnswer, RunSummary, ShownSet } from '../../shared-types/wire/results.ts';
import { toleranceText } from './pool-fields.ts';
import { stateWords } from './today-words.ts';

/** `Fri 15 Jan 2027, 18:05` on the pool's clock. */
export function dayAndTime(at: Instant, face: ClockFace): string {
  const day = new Intl.DateTimeFormat('en-GB', {
    timeZone: face.timezone,
    weekday: 'short',
    day: 'numeric',
    month: 'short',
    year: 'numeric',
  });
  return `${day.format(at + face.trimMs).replace(',', '')}, ${timeOfDay(at, face)}`;
}

/** `15 Jan 2027` on the pool's clock. */
export const dateText = (at: Instant, { timezone, trimMs }: ClockFace): string =>
  new Intl.DateTimeFormat('en-GB', { timeZone: timezone, day: 'numeric', month: 'short', year: 'numeric' }).format(
    at + trimMs,
  );

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

/** `30.0`, the target of the whole rep; where only its first part is paced, that part's: `50: 30.0`. */
export function targetText({ target }: Pick<JudgedRep, 'target'>): string | null {
  const [first, ...others] = target.splits;
  const about = target.estimated ? '≈ ' : '';
  if (first?.paced && others.length > 0 && others.every(({ paced }) => !paced)) {
    return `${first.distance}: ${about}${formatSwimTime(first.ms, 1)}`;
  }
  return target.ms === null ? null : `${about}${formatSwimTime(target.ms, 1)}`;
}

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
