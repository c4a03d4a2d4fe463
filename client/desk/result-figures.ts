import type { Style } from '../../shared-types/practice.ts';
import { type Figure, fastestOf, isKnown, LEADS, type LeadMetric, loadsOf, none } from '../../shared-types/results.ts';
import { type ClockFace, formatSwimTime, signedTenths } from '../../shared-types/time.ts';
import type { ShownSwimmer } from '../../shared-types/wire/results.ts';
import { dayOfYear } from './days.ts';

/** A figure as it is written, with what it is held against where that has to be said, or why there is none. */
export type Written = { readonly text: string; readonly against?: string } | { readonly why: string };

/** A figure of a set, one column of its table. */
export interface FigureColumn {
  readonly label: string;
  /** What it is, in words. */
  readonly means: string;
  readonly of: (own: ShownSwimmer, face: ClockFace) => Written;
}

const written = (figure: Figure, as: (value: number) => string): Written =>
  isKnown(figure) ? { text: as(figure) } : { why: figure.none };

const time = (figure: Figure): Written => written(figure, (ms) => formatSwimTime(ms, 1));
const signedSeconds = (figure: Figure): Written => written(figure, (ms) => signedTenths(ms / 1000));
const percent = (figure: Figure): Written => written(figure, (share) => `${signedTenths(share)} %`);

/** Of what was to be held: nothing can be said of it where there was no target, or no time where it ends. */
function ofHits({ hits }: ShownSwimmer, text: string): Written {
  if (hits.judged > 0) return { text };
  return { why: hits.unjudged > 0 ? 'the paced part was not timed' : 'no target, or no times' };
}

const inUnit = (loads: readonly number[], unit: 'kg' | 'N'): string =>
  loads.length === 0 ? '' : `${loads.map((load) => Math.round(load * 10) / 10).join(', ')} ${unit}`;

function load({ power }: ShownSwimmer): Written {
  if (!isKnown(power)) return { why: power.none };
  const { kg, newtons } = loadsOf(power);
  const written = [inUnit(kg, 'kg'), inUnit(newtons, 'N')].filter((part) => part !== '');
  return written.length > 0 ? { text: written.join(', ') } : { why: 'load not known' };
}

const AGAINST = { threshold: ' on threshold', targets: ' on target', nothing: '' } as const;

/** The mean now less the mean then, and which then: a set with another send-off or effort is not quite the same. */
export function changeWords({ change: since }: Pick<ShownSwimmer, 'change'>, face: ClockFace): Written {
  if (!isKnown(since)) return { why: since.none };
  if (!isKnown(since.meanMs)) return { why: since.meanMs.none };
  const other = since.likeness === 'strict' ? '' : ', other send-off or effort';
  return { text: signedTenths(since.meanMs / 1000), against: `since ${dayOfYear(since.at, face)}${other}` };
}

const COLUMNS: Readonly<Record<LeadMetric, FigureColumn>> = {
  hits: {
    label: 'Held',
    means: 'How many reps, or paced parts of reps, were at the target or faster',
    of: (own) => ofHits(own, `${own.hits.hits} of ${own.hits.judged}`),
  },
  run: {
    label: 'In a row',
    means: 'Most that were held one after the other',
    of: (own) => ofHits(own, String(own.hits.longestRun)),
  },
  'paced distance': {
    label: 'At pace',
    means: 'Distance swum at the target',
    of: (own) => ofHits(own, String(own.hits.pacedDistance)),
  },
  rest: {
    label: 'Wall rest',
    means: 'Mean time on the wall between reps, seconds',
    of: ({ rest: { meanMs } }) => written(meanMs, (ms) => (ms < 0 ? signedTenths(ms / 1000) : formatSwimTime(ms, 1))),
  },
  mean: { label: 'Mean', means: 'Mean time', of: ({ spread }) => time(spread.meanMs) },
  spread: { label: 'Spread', means: 'Standard deviation of the times, seconds', of: ({ spread }) => time(spread.sdMs) },
  finish: {
    label: 'Finish',
    means: 'Mean of the last quarter less that of the first, seconds; with a minus the finish was faster',
    of: ({ finishMs }) => signedSeconds(finishMs),
  },
  change: {
    label: 'Change',
    means: 'Mean less the mean of the last time the same set was swum, seconds; with a minus it was faster now',
    of: changeWords,
  },
  first: {
    label: 'First',
    means: 'The first time',
    of: ({ reps: [first] }) => time(first?.ms ?? none('no times')),
  },
  best: { label: 'Best', means: 'The fastest time', of: ({ spread }) => time(spread.bestMs) },
  fade: {
    label: 'Fade',
    means: 'By how much the last time is above the first',
    of: ({ fade }) => percent(fade.firstToLastPercent),
  },
  load: { label: 'Load', means: 'Mass of the weight stack, or force of the rope', of: load },
  time: { label: 'Time', means: 'The fastest time over the timed distance', of: (own) => time(fastestOf(own)) },
  power: {
    label: 'Power',
    means: 'Best mean power that goes into lifting the stack or against the rope, watts',
    of: ({ power }) => written(isKnown(power) ? power.bestWatts : power, (watts) => `${watts.toFixed(1)} W`),
  },
  drop: {
    label: 'Drop',
    means: 'By how much the last power lies below the best',
    of: ({ power }) => written(isKnown(power) ? power.dropPercent : power, (share) => `${share.toFixed(1)} %`),
  },
  threshold: {
    label: 'Per 100',
    means: 'By how much the mean per 100 is above the threshold pace, or where that is not known the target, seconds',
    of: ({ threshold: { overPer100Ms, against } }) =>
      written(overPer100Ms, (ms) => `${signedTenths(ms / 1000)}${AGAINST[against]}`),
  },
  drift: {
    label: 'Drift',
    means: 'By how much each rep is slower than the one before, seconds; with a minus they became faster',
    of: ({ threshold }) => written(threshold.driftSecondsPerRep, signedTenths),
  },
};

/** What is looked at of a set after what leads, by what the set was for. */
const FURTHER: Readonly<Record<Style, readonly LeadMetric[]>> = {
  'race pace': ['mean', 'spread', 'fade'],
  'active rest': ['mean'],
  'best average': ['best', 'fade'],
  'stand-up': ['mean', 'spread'],
  power: [],
  threshold: ['mean', 'spread'],
  aerobic: ['best', 'fade'],
  skills: ['best'],
};

/** The columns of a set's table: those that lead first, then those that may be of interest. */
export function figureColumns(style: Style): { readonly leading: FigureColumn[]; readonly further: FigureColumn[] } {
  return {
    leading: LEADS[style].map((metric) => COLUMNS[metric]),
    further: FURTHER[style].map((metric) => COLUMNS[metric]),
  };
}
