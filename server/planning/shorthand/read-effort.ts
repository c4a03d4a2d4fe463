import type { IToken } from 'chevrotain';
import { type Effort, LIMITS, type RacePace } from '../../../shared-types/practice.ts';
import { strokeOf } from '../../../shared-types/squad.ts';
import { isA } from './lexer.ts';
import type { RawEffort, RawRace } from './raw.ts';
import { readDistance, readPercent } from './read-number.ts';
import { readPerGroup, readSwimTime } from './read-time.ts';
import { quote, type Report } from './report.ts';

const FEELS = ['easy', 'smooth', 'build', 'max'] as const;

function readPart(token: IToken): NonNullable<RacePace['part']> {
  if (isA(token, 'BackHalf')) return 'back-half';
  return token.image.toLowerCase() === 'front' ? 'front' : 'middle';
}

function readRace(raw: RawRace, report: Report): RacePace | null {
  if (raw.own && raw.stroke) {
    report(raw.stroke, {
      text: `"own" already means each swimmer's main stroke; leave out own or ${raw.stroke.image}`,
    });
    return null;
  }
  const distance = readDistance(raw.distance, report);
  const stroke = raw.own ? 'own' : raw.stroke && strokeOf(raw.stroke.image);
  if (distance === null) return null;
  return { distance, ...(stroke ? { stroke } : {}), ...(raw.part ? { part: readPart(raw.part) } : {}) };
}

function readDescend(from: IToken | undefined, to: IToken | undefined, report: Report): Effort | null {
  if (!from || !to) return { kind: 'descend' };
  const over = Number(to.image);
  if (!Number.isInteger(over) || over < 2 || over > LIMITS.repsPerLane) {
    report(to, { text: `${quote(to.image)} is not the last rep of a descent; write it like descend 1-4` });
    return null;
  }
  if (from.image !== '1') {
    report(from, { text: `a descent starts at rep 1; write descend 1-${over}`, fix: `descend 1-${over}` });
    return null;
  }
  return { kind: 'descend', over };
}

/** Slower than threshold by more than this is no threshold swimming. */
const MOST_PLUS_S = 60;

function readThreshold(plus: IToken | undefined, report: Report): Effort | null {
  if (!plus) return { kind: 'threshold', plusMsPer100: 0 };
  const seconds = Number(plus.image);
  if (seconds <= MOST_PLUS_S) return { kind: 'threshold', plusMsPer100: Math.round(seconds * 1000) };
  report(plus, {
    text: `threshold +${quote(plus.image).slice(1, -1)} is too slow; write seconds per 100, like threshold +3`,
  });
  return null;
}

function readPace(raw: Extract<RawEffort, { kind: 'pace' }>, report: Report): Effort | null {
  const percent = raw.percent ? readPercent(raw.percent, report) : 100;
  const race = readRace(raw.race, report);
  return percent === null || race === null ? null : { kind: 'pace', race, percent };
}

function readRamp(raw: Extract<RawEffort, { kind: 'ramp' }>, report: Report): Effort | null {
  const fromPercent = readPercent(raw.from, report);
  const toPercent = readPercent(raw.to, report);
  const race = readRace(raw.race, report);
  if (fromPercent === null || toPercent === null || race === null) return null;
  return { kind: 'ramp', race, fromPercent, toPercent, by: isA(raw.by, 'Rep') ? 'rep' : 'round' };
}

function readHold(raw: Extract<RawEffort, { kind: 'hold' }>, report: Report): Effort | null {
  const timeMs = readPerGroup(raw.times, (token) => readSwimTime(token, report), report);
  const perDistance = raw.per && readDistance(raw.per, report);
  if (timeMs === null || perDistance === null) return null;
  return { kind: 'hold', timeMs, ...(perDistance === undefined ? {} : { perDistance }) };
}

function readAlternate(raw: Extract<RawEffort, { kind: 'alternate' }>, report: Report): Effort | null {
  const odds = readEffort(raw.odds, report);
  const evens = readEffort(raw.evens, report);
  return odds && evens && { kind: 'alternate', odds, evens };
}

/** What an effort means. @returns null when something in it is wrong; then it has been reported */
export function readEffort(raw: RawEffort, report: Report): Effort | null {
  switch (raw.kind) {
    case 'feel': {
      const kind = FEELS.find((feel) => feel === raw.token.image.toLowerCase());
      return kind ? { kind } : null;
    }
    case 'best average':
      return { kind: 'best average' };
    case 'descend':
      return readDescend(raw.from, raw.to, report);
    case 'threshold':
      return readThreshold(raw.plus, report);
    case 'pace':
      return readPace(raw, report);
    case 'ramp':
      return readRamp(raw, report);
    case 'hold':
      return readHold(raw, report);
    case 'alternate':
      return readAlternate(raw, report);
  }
}
