import type { IToken } from 'chevrotain';
import { LIMITS } from '../../../shared-types/practice.ts';
import { quote, type Report } from './report.ts';

const whole = (text: string): number | null => (/^\d+$/.test(text) ? Number(text) : null);

const grouped = (n: number): string => (n < 1e9 ? n.toLocaleString('en-GB') : 'far too many');

/** How many reps or rounds: 1 to {@link LIMITS.repsPerLane}. @returns null when reported */
export function readCount(token: IToken, noun: 'reps' | 'rounds', report: Report): number | null {
  const count = whole(token.image);
  if (count === null) {
    report(token, { text: `${quote(token.image)} is not a whole number of ${noun}` });
  } else if (count === 0) {
    report(token, { text: `0 ${noun} cannot be swum; write how many, or take the line out` });
  } else if (count > LIMITS.repsPerLane) {
    report(token, {
      code: 'too-much',
      text: `${grouped(count)} ${noun}; at most ${grouped(LIMITS.repsPerLane)} reps a lane`,
    });
  } else return count;
  return null;
}

/** Longer than any swim in a pool; keeps sums exact. */
const LONGEST = 99_999;

/** A distance in the course's unit, whole lengths or not is looked at later. @returns null when reported */
export function readDistance(token: IToken, report: Report): number | null {
  const distance = whole(token.image.replace(/s$/i, ''));
  if (distance === null) {
    report(token, { text: `${quote(token.image)} is not a whole distance; write one like 50` });
  } else if (distance === 0) {
    report(token, { text: 'a distance of 0 cannot be swum; write how far, like 50' });
  } else if (distance > LONGEST) {
    report(token, { code: 'too-much', text: `${quote(token.image)} is too far; at most ${grouped(LONGEST)}` });
  } else return distance;
  return null;
}

/** A stretch of a rep, which may end anywhere: `15`, `12.5`. @returns null when reported */
export function readStretch(token: IToken, report: Report): number | null {
  const distance = Number(token.image);
  if (distance > 0 && distance <= LONGEST && /^\d+(\.\d)?$/.test(token.image)) return distance;
  report(token, { text: `${quote(token.image)} is not the distance of a part; write one like 25 or 12.5` });
  return null;
}

/** @returns 1 to 200, or null when reported */
export function readPercent(token: IToken, report: Report): number | null {
  const percent = Number(token.image);
  if (percent >= 1 && percent <= 200) return percent;
  report(token, { text: `${quote(`${token.image}%`)} is out of reach; write 1% to 200%` });
  return null;
}

/** The international pound, exactly (international yard and pound agreement, 1959). */
const KG_PER_LB = 0.45359237;
const HEAVIEST_KG = 500;

/** A pulley's stack mass in kilograms. @returns null when reported */
export function readMassKg(mass: IToken, unit: IToken, report: Report): number | null {
  const kg = Number(mass.image) * (unit.image.toLowerCase() === 'kg' ? 1 : KG_PER_LB);
  if (kg > 0 && kg <= HEAVIEST_KG) return kg;
  report(mass, { text: `${quote(`${mass.image} ${unit.image}`)} is not a stack mass; write one like 12 kg` });
  return null;
}
