import type { Effort, Equipment, Part, RacePace, SetItem } from '../../../shared-types/practice.ts';
import { formatClock, formatSwimTime } from '../../../shared-types/time.ts';

/** A percent with at most one decimal: `90`, `92.5`. */
const percentText = (percent: number): string => String(Math.round(percent * 10) / 10);

function raceText({ distance, stroke, part }: RacePace): string {
  const words = stroke === 'own' ? ['own', String(distance)] : [String(distance), ...(stroke ? [stroke] : [])];
  return [...words, ...(part ? [part] : []), 'pace'].join(' ');
}

const holdTime = (value: number): string => formatSwimTime(value, value % 100 === 0 ? 1 : 2);

/** An effort as the coach would say it: `at 90 % of 200 pace`, `descend 1–4`. */
export function effortWords(effort: Effort | undefined): string {
  if (!effort) return '';
  switch (effort.kind) {
    case 'descend':
      return effort.over === undefined ? 'descend' : `descend 1–${effort.over}`;
    case 'threshold':
      return effort.plusMsPer100 === 0 ? 'threshold' : `threshold + ${effort.plusMsPer100 / 1000} per 100`;
    case 'pace': {
      const percent = effort.percent === 100 ? '' : `${percentText(effort.percent)} % of `;
      return `at ${percent}${raceText(effort.race)}`;
    }
    case 'ramp': {
      const range = `${percentText(effort.fromPercent)} to ${percentText(effort.toPercent)} %`;
      return `${range} of ${raceText(effort.race)} by ${effort.by}`;
    }
    case 'hold': {
      const times = effort.timeMs.map(holdTime).join('/');
      return `hold ${times}${effort.perDistance === undefined ? '' : ` per ${effort.perDistance}`}`;
    }
    case 'alternate':
      return `odds ${effortWords(effort.odds)}, evens ${effortWords(effort.evens)}`;
    default:
      return effort.kind;
  }
}

export const equipmentWords = ({ name, massKg }: Equipment): string =>
  massKg === undefined ? name : `${name} ${Math.round(massKg * 10) / 10} kg`;

function partWords({ distance, stroke, activity, effort }: Part): string {
  const what = activity && activity !== 'swim' ? activity : '';
  return [String(distance), stroke ?? '', what, effortWords(effort)].filter(Boolean).join(' ');
}

/** `8 × 50 free`, `10/9/8 × 100 back kick`, `400 choice`, `10 × :30 kick`. */
export function setWords(set: SetItem): string {
  const size = set.size.kind === 'distance' ? String(set.size.distance) : formatClock(set.size.timeMs);
  const counts = set.counts.every((count) => count === 1) ? '' : `${set.counts.join('/')} × `;
  const activity = set.activity === 'swim' ? '' : ` ${set.activity}`;
  const oneStroke = set.parts.some(({ stroke }) => stroke !== undefined) ? '' : ` ${set.stroke}`;
  return `${counts}${size}${oneStroke}${activity}`;
}

/** What else the line says, without send-offs: `at 200 pace, from a dive, with fins`. */
export function setDetail(set: SetItem): string {
  return [
    set.parts.map(partWords).join(' + '),
    effortWords(set.effort),
    set.start === 'dive' ? 'from a dive' : '',
    set.equipment.length > 0 ? `with ${set.equipment.map(equipmentWords).join(' + ')}` : '',
    set.release?.kind === 'go' && set.release.byHeat ? 'by heat' : '',
  ]
    .filter(Boolean)
    .join(', ');
}
