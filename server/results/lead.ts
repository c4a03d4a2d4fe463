import type { Style } from '../../shared-types/practice.ts';
import { type Figure, fastestOf, isKnown, loadsOf, type SwimmerResults } from '../../shared-types/results.ts';
import { formatSwimTime, signedTenths } from '../../shared-types/time.ts';

type Results = Omit<SwimmerResults, 'lead'>;

/**
 * What a set's times say first, in one line for the deck: `6 of 8 held, 4 in a row, 300 at pace`. Times to the tenth,
 * as far as times taken by hand go. What is not known is left out; what is missing is said.
 */
export function leadLine(style: Style, results: Results): string {
  const { reps, spread } = results;
  if (reps.every((rep) => rep.missing === 'not swum')) return 'not swum';
  const words = WORDS[style](results).filter((part) => part !== '');
  if (words.length === 0) return spread.missing > 0 ? 'no times' : 'nothing to time';
  const lacking = notTimed(style, results);
  return [...words, ...(lacking > 0 ? [`${lacking} not timed`] : [])].join(', ');
}

/** How many lack the time that leads: of reps to hold the paced part's, of power the one over the timed distance. */
function notTimed(style: Style, { hits, power, spread }: Results): number {
  const isHeld = style === 'race pace' || style === 'active rest';
  if (isHeld && hits.judged > 0) return hits.unjudged;
  if (style === 'power' && isKnown(power)) return power.reps.filter(({ ms }) => !isKnown(ms)).length;
  return spread.missing;
}

const WORDS: Readonly<Record<Style, (results: Results) => string[]>> = {
  'race pace': (results) => [...held(results), inARow(results), atPace(results)],
  'active rest': (results) => [...held(results), wallRest(results)],
  'best average': (results) => [mean(results), spread(results), finish(results), change(results)],
  'stand-up': (results) => [first(results), best(results), fade(results)],
  power: (results) => (bestOver(results) === '' ? [] : [load(results), bestOver(results), ...power(results)]),
  threshold: (results) => [overThreshold(results), drift(results)],
  aerobic: (results) => [mean(results), spread(results)],
  skills: (results) => [mean(results), spread(results)],
};

const seconds = (figure: Figure, label: string): string =>
  isKnown(figure) ? `${label} ${formatSwimTime(figure, 1)}` : '';

const signedSeconds = (figure: Figure, label: string): string =>
  isKnown(figure) ? `${label} ${signedTenths(figure / 1000)}` : '';

/** What was held; with nothing to hold the mean instead. The mean of reps with easy parts would say little. */
function held(results: Results): string[] {
  const { judged, hits, under, unjudged } = results.hits;
  if (judged === 0 && results.spread.count === 0) return [];
  if (judged === 0) return unjudged > 0 ? ['paced part not timed'] : ['nothing to hold', mean(results)];
  return [`${hits} of ${judged} held`, under > 0 ? `${under} too fast` : ''];
}

const inARow = ({ hits: { longestRun, hits } }: Results): string =>
  hits > 0 && longestRun > 1 ? `${longestRun} in a row` : '';

const atPace = ({ hits: { pacedDistance } }: Results): string => (pacedDistance > 0 ? `${pacedDistance} at pace` : '');

/** Below nought there was none. */
const wallRest = ({ rest: { meanMs } }: Results): string =>
  isKnown(meanMs) && meanMs < 0 ? `wall rest ${signedTenths(meanMs / 1000)}` : seconds(meanMs, 'wall rest');

const mean = ({ spread: { meanMs } }: Results): string => seconds(meanMs, 'mean');
const spread = ({ spread: { sdMs } }: Results): string => seconds(sdMs, 'spread');
const best = ({ spread: { bestMs } }: Results): string => seconds(bestMs, 'best');
const finish = ({ finishMs }: Results): string => signedSeconds(finishMs, 'finish');

function change({ change }: Results): string {
  if (!isKnown(change) || !isKnown(change.meanMs)) return '';
  const other = change.likeness === 'strict' ? '' : ' (other send-off or effort)';
  return `${signedTenths(change.meanMs / 1000)} on last time${other}`;
}

function first({ reps }: Results): string {
  const [rep] = reps;
  return rep && rep.ms !== null ? seconds(rep.ms, 'first') : '';
}

/** First to last; a set swum faster and faster is called descending. */
function fade({ fade: { firstToLastPercent, descending } }: Results): string {
  if (!isKnown(firstToLastPercent)) return '';
  return `${descending ? 'descending' : 'fade'} ${signedTenths(firstToLastPercent)} %`;
}

const bestOver = (results: Results): string => seconds(fastestOf(results), 'best');

function load({ power }: Results): string {
  if (!isKnown(power)) return '';
  const { kg, newtons } = loadsOf(power);
  return [range(kg, 'kg'), range(newtons, 'N')].filter((part) => part !== '').join(' and ');
}

/** `12 kg`, `10 to 14 kg`; empty of none. */
function range(loads: readonly number[], unit: 'kg' | 'N'): string {
  if (loads.length === 0) return '';
  const [least, most] = [tenths(Math.min(...loads)), tenths(Math.max(...loads))];
  return least === most ? `${least} ${unit}` : `${least} to ${most} ${unit}`;
}

const tenths = (value: number): number => Math.round(value * 10) / 10;

function power({ power }: Results): string[] {
  if (!isKnown(power) || !isKnown(power.bestWatts)) return [];
  const { bestWatts, dropPercent } = power;
  return [`${bestWatts.toFixed(1)} W`, isKnown(dropPercent) ? `drop ${dropPercent.toFixed(1)} %` : ''];
}

function overThreshold({ threshold: { meanPer100Ms, overPer100Ms, against } }: Results): string {
  const per100 = isKnown(meanPer100Ms) ? `mean ${formatSwimTime(meanPer100Ms, 1)} per 100` : '';
  if (!isKnown(overPer100Ms)) return per100;
  return `${per100}, ${signedTenths(overPer100Ms / 1000)} on ${against === 'threshold' ? 'threshold' : 'target'}`;
}

const drift = ({ threshold: { driftSecondsPerRep } }: Results): string =>
  isKnown(driftSecondsPerRep) ? `drift ${signedTenths(driftSecondsPerRep)} s a rep` : '';
