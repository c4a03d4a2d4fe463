import type { Scope } from '../../shared-types/changes.ts';
import { formatClock } from '../../shared-types/time.ts';
import { type LaneOnSet, lanesIn, type SetNow, type What } from './set-changes.ts';
import { laneWords } from './words.ts';

/** What the panel of changes says. Pure. */

const WHEN_WORDS: Readonly<Record<SetNow['when'], string>> = {
  now: 'now',
  swum: 'just swum',
  'to come': 'to come',
};

/** `Main set · now` */
export const whereWords = ({ section, when }: SetNow): string =>
  [section, WHEN_WORDS[when]].filter((part) => part !== '').join(' · ');

/** `all lanes`, `group B`, `lane 3` */
export function scopeWords(scope: Scope): string {
  if (scope.kind === 'all') return 'all lanes';
  return scope.kind === 'lane' ? `lane ${scope.lane}` : `group ${scope.group}`;
}

/** Of a group its lanes, and what they swim on: `lanes 1–2 · 1:25`. */
export function scopeDetail(set: SetNow, scope: Scope): string {
  const lanes = lanesIn(set, scope);
  const which = scope.kind === 'group' ? laneWords(lanes.map(({ lane }) => lane)) : '';
  const what: What = set.release === 'interval' ? 'intervalMs' : 'count';
  return [which, valueWords(set, what, lanes)].filter((part) => part !== '').join(' · ');
}

export const WHAT_WORDS: Readonly<Record<What, string>> = {
  intervalMs: 'Send-off',
  count: 'Reps',
  apartMs: 'Gap',
};

const RELEASE_WORDS: Readonly<Record<SetNow['release'], string>> = {
  interval: '',
  rest: 'by rest',
  go: 'on go',
};

/** What holds now for these lanes: `1:25`, or where they differ `1:25 / 1:35`. */
export function valueWords({ release }: SetNow, what: What, lanes: readonly LaneOnSet[]): string {
  if (what === 'intervalMs' && release !== 'interval') return RELEASE_WORDS[release];
  const values = [...new Set(lanes.map((lane) => lane[what] ?? 0))];
  return values.map((value) => (what === 'count' ? `${value}` : formatClock(value))).join(' / ');
}

/** `−5 s`, `+1` */
export const stepWords = (by: number, what: What): string => {
  const sign = by < 0 ? '−' : '+';
  return what === 'count' ? `${sign}${Math.abs(by)}` : `${sign}${Math.abs(by) / 1000} s`;
};
