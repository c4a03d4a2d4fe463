import { type Course, unitOf } from '../../shared-types/pool.ts';
import { isMixed, lastSplitOf, type RepStep, type Sheet, type Step, type Target } from '../../shared-types/sheet.ts';
import { formatClock, formatSwimTime } from '../../shared-types/time.ts';
import type { RepRow } from './lane-rows.ts';

export const distanceWords = (distance: number, course: Course): string =>
  `${distance.toLocaleString('en')} ${unitOf(course)}`;

/** A place on a lane's axis as m:ss; the start is 0:00. */
export function axisText(atMs: number): string {
  const text = formatClock(Math.floor(atMs / 1000) * 1000);
  return text.startsWith(':') ? `0${text}` : text;
}

/** A duration to the whole second, as on the pace clock. */
export const secondsText = (durationMs: number): string => formatClock(Math.round(durationMs / 1000) * 1000);

/** `50 free kick`, `:30 kick`. */
export function swimWords(sheet: Sheet, step: RepStep): string {
  const size = step.timedMs === undefined ? String(step.distance ?? '') : formatClock(step.timedMs);
  const activity = sheet.sets[step.set]?.activity ?? 'swim';
  return [size, step.stroke, activity === 'swim' ? '' : activity].filter(Boolean).join(' ');
}

/** How hard, from where, with what: the set's own detail, or this rep's effort where reps differ. */
export function detailWords(sheet: Sheet, step: RepStep): string {
  const detail = sheet.sets[step.set]?.detail ?? '';
  if (step.effort === undefined || detail.includes(step.effort)) return detail;
  return [step.effort, detail].filter(Boolean).join(', ');
}

/** `round 2 of 3`, with the outer rounds first where rounds nest; empty outside rounds. */
export function roundWords({ outerRound, outerRounds, round, rounds }: RepStep): string {
  const part = (now: number | undefined, all: number | undefined): string =>
    now === undefined || all === undefined ? '' : `${now} of ${all}`;
  const words = [part(outerRound, outerRounds), part(round, rounds)].filter(Boolean).join(', ');
  return words && `round ${words}`;
}

/** The send-off interval of a row: `1:10`, `1:10 to :55` when it changes, `on go`, `about 7:11` before a gate. */
export function everyWords({ steps, onGo, untilGo, first }: RepRow): string {
  if (onGo || first.heat !== undefined) return 'on go';
  const [from = '', to = ''] = [steps[0], steps[steps.length - 1]].map((step) => secondsText(step?.durationMs ?? 0));
  if (untilGo && first.reps === 1) return `about ${from}`;
  return from === to ? from : `${from} to ${to}`;
}

const REST_WORDS = { rest: 'Rest', between: 'Rest between rounds', join: 'Waits for the other lanes' } as const;

/** A rest or a gate in words. */
export function pauseWords(step: Exclude<Step, RepStep>): string {
  if (step.kind === 'gate') return 'Waits for the coach’s go';
  return `${REST_WORDS[step.reason]} ${secondsText(step.durationMs)}`;
}

/** A split as the table shows it; `main` ones are what the swimmer has to hold. */
export interface ShownSplit {
  readonly text: string;
  readonly at: number;
  readonly main: boolean;
}

/** Of a rep with easy parts the paced splits count; of any other the whole time, with the splits on the way. */
export function shownSplits(target: Target): ShownSplit[] {
  const { splits, ms } = target;
  const mixed = isMixed(target);
  const last = lastSplitOf(target);
  const isMain = (split: Target['splits'][number]): boolean => (mixed ? split.paced : split === last);
  if (!last) return ms === null ? [] : [{ text: formatSwimTime(ms, 1), at: 0, main: true }];
  return splits.map((split) => ({ text: formatSwimTime(split.ms, 1), at: split.distance, main: isMain(split) }));
}

/** The rest really left after the touch, or how much the target is over its send-off. */
export function restWords({ restMs }: Target): string {
  if (restMs === null) return '';
  return restMs < 0 ? `over by ${secondsText(-restMs)}` : `rest ${secondsText(restMs)}`;
}
