import type { SwimmerId } from '../../shared-types/brand.ts';
import { isKnown } from '../../shared-types/results.ts';
import type { Labels } from '../../shared-types/wire/from-server.ts';
import type { JudgedRep, ShownSet, ShownSwimmer } from '../../shared-types/wire/results.ts';
import type { AskedStep, ChartLine, ChartMark, TimeChart } from './chart-model.ts';
import { nameOf } from './names.ts';
import { kindWords, mostReps, pacedOpening, roundWords, type TargetWords, targetWords } from './result-words.ts';

/** Whose times are drawn. */
export type Drawn = SwimmerId | 'everybody';

export type Verdict = TargetWords['verdict'];

/** How it is drawn what became of a rep; unjudged: nothing was to be held, or nothing can be said of it. */
export const VERDICT_MARKS: Readonly<Record<Verdict, ChartMark>> = {
  held: { shape: 'disc', ink: 'good' },
  under: { shape: 'down', ink: 'fast' },
  missed: { shape: 'cross', ink: 'bad' },
  some: { shape: 'diamond', ink: 'partly' },
  unjudged: { shape: 'ring', ink: 'neutral' },
};

/** A set with whose times are drawn of it. */
export interface DrawnSet {
  readonly set: ShownSet;
  readonly who: Drawn;
  readonly labels: Labels;
}

/** The time that is drawn of a rep, ms: where only its opening is paced the time there, else the finish. */
export function drawnMs(rep: JudgedRep): number | null {
  const opening = pacedOpening(rep);
  if (!opening) return rep.ms;
  return rep.splits.find(({ distance }) => distance === opening.distance)?.ms ?? null;
}

export const verdictOf = (rep: JudgedRep): Verdict => targetWords(rep)?.verdict ?? 'unjudged';

export const swimmersWithTimes = ({ swimmers }: ShownSet): readonly ShownSwimmer[] =>
  swimmers.filter(({ reps }) => reps.some((rep) => drawnMs(rep) !== null));

/** A single rep has no course to draw. */
export const isDrawable = (set: ShownSet): boolean => mostReps(set).length > 1 && swimmersWithTimes(set).length > 0;

export const drawnSwimmers = ({ set, who }: DrawnSet): readonly ShownSwimmer[] =>
  who === 'everybody' ? swimmersWithTimes(set) : set.swimmers.filter(({ swimmer }) => swimmer === who);

/** Places on the x axis: every rep, and between rounds a place where there never is a time, so that lines end there. */
function placesOf(reps: readonly JudgedRep[]): readonly (JudgedRep | null)[] {
  return reps.flatMap((rep, index) => {
    const before = reps[index - 1];
    return before && roundWords(before) !== roundWords(rep) ? [null, rep] : [rep];
  });
}

function xsOf(places: readonly (JudgedRep | null)[]): number[] {
  return places.map((rep, place) => rep?.rep ?? (places[place - 1]?.rep ?? 0) + 0.5);
}

function lineOf(drawn: DrawnSet, own: ShownSwimmer, order: number, xs: readonly number[]): ChartLine {
  const isAlone = drawn.who !== 'everybody';
  const byRep = new Map(own.reps.map((rep) => [rep.rep, rep]));
  const ink = isAlone ? 'chief' : order;
  const reps = xs.map((x) => byRep.get(x));
  const values = reps.map((rep) => (rep ? drawnMs(rep) : null));
  return {
    name: nameOf(drawn.labels, own.swimmer),
    values,
    marks: reps.map((rep, place) => {
      if (!rep || values[place] === null) return null;
      const mark = VERDICT_MARKS[verdictOf(rep)];
      return isAlone ? mark : { ...mark, ink };
    }),
    joins: own.reps.some((rep) => kindWords(rep, own.reps) !== '') ? 'none' : 'neighbours',
    ink,
    isNamed: !isAlone,
  };
}

/** What was asked of each rep, with what still is a hit where all up to there is paced. */
function askedOf({ reps, hits }: ShownSwimmer): AskedStep[] {
  const steps = reps.flatMap((rep): AskedStep[] => {
    const end = pacedOpening(rep) ?? { distance: rep.distance, ms: rep.target.ms };
    if (end.ms === null || rep.missing === 'not swum') return [];
    const upTo = rep.target.splits.filter(({ distance }) => distance <= (end.distance ?? 0));
    const isPaced = upTo.length > 0 && upTo.every(({ paced }) => paced);
    const toleranceMs = isPaced ? (hits.toleranceMsPer50 * (end.distance ?? 0)) / 50 : null;
    return [{ from: rep.rep - 0.5, to: rep.rep + 0.5, ms: end.ms, toleranceMs }];
  });
  return steps.reduce<AskedStep[]>(joined, []);
}

/** Reps one after the other of which the same was asked make one step. */
function joined(steps: readonly AskedStep[], next: AskedStep): AskedStep[] {
  const last = steps[steps.length - 1];
  const goesOn = last?.to === next.from && last.ms === next.ms && last.toleranceMs === next.toleranceMs;
  return goesOn ? [...steps.slice(0, -1), { ...last, to: next.to }] : [...steps, next];
}

/** Those of the swimmers drawn, where they were all asked the same. */
function commonAsked(swimmers: readonly ShownSwimmer[]): AskedStep[] {
  const [first = [], ...others] = swimmers.map(askedOf);
  const same = JSON.stringify(first);
  return others.every((one) => JSON.stringify(one) === same) ? first : [];
}

/** The least-squares line through the finishes, which goes through their middle; null where they have no one slope. */
function trendOf({ fade, spread, reps }: ShownSwimmer): TimeChart['trend'] {
  const { secondsPerRep } = fade;
  const timed = reps.filter(({ ms }) => ms !== null);
  const [first, last] = [timed[0], timed[timed.length - 1]];
  if (!isKnown(secondsPerRep) || !isKnown(spread.meanMs) || !first || !last) return null;
  if (reps.some((rep) => pacedOpening(rep) !== null)) return null;
  const middle = timed.reduce((sum, { rep }) => sum + rep, 0) / timed.length;
  const { meanMs } = spread;
  const at = (x: number) => ({ x, ms: meanMs + (x - middle) * secondsPerRep * 1000 });
  return { from: at(first.rep), to: at(last.rep) };
}

function dividersOf(places: readonly (JudgedRep | null)[], reps: readonly JudgedRep[]): TimeChart['dividers'] {
  if (!places.includes(null)) return [];
  return places.flatMap((rep, place) => {
    const isFirst = place === 0 || places[place - 1] === null;
    if (!rep || !isFirst) return [];
    const kinds = reps.filter((one) => roundWords(one) === roundWords(rep)).map((one) => kindWords(one, reps));
    const kind = new Set(kinds).size === 1 ? (kinds[0] ?? '') : '';
    const text = [roundWords(rep), kind].filter((words) => words !== '').join(', ');
    return [{ x: rep.rep - 0.5, text, isDrawn: place > 0 }];
  });
}

/** More reps than these have no room for words under them. */
const MOST_WITH_WORDS = 12;

function ticksOf(reps: readonly JudgedRep[]): TimeChart['ticks'] {
  return reps.map((rep) => {
    const kind = reps.length > MOST_WITH_WORDS ? '' : kindWords(rep, reps);
    return { x: rep.rep, text: kind === '' ? String(rep.rep) : `${rep.rep}\n${kind}` };
  });
}

/** Reps of a set against what was asked. */
export function repChart(drawn: DrawnSet): TimeChart {
  const reps = mostReps(drawn.set);
  const places = placesOf(reps);
  const xs = xsOf(places);
  const swimmers = drawnSwimmers(drawn);
  const [only, ...others] = swimmers;
  return {
    xs,
    ticks: ticksOf(reps),
    xLabel: 'Rep',
    range: { from: 0.4, to: reps.length + 0.6 },
    lines: swimmers.map((own, order) => lineOf(drawn, own, order, xs)),
    asked: commonAsked(swimmers),
    dividers: dividersOf(places, reps),
    trend: only && others.length === 0 && drawn.who !== 'everybody' ? trendOf(only) : null,
  };
}
