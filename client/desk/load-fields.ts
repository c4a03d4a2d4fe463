import { LOAD_LIMITS, type Load } from '../../shared-types/loads.ts';
import type { Rig } from '../../shared-types/rig.ts';
import type { Pulled } from '../../shared-types/wire/results.ts';
import type { Problem } from './problem.ts';

/** Loads as a coach writes them. Pure. */

/** Kilograms in a pound, exactly: international yard and pound agreement of 1959. */
const KG_PER_LB = 0.45359237;

/** `12 kg`, `60 N` */
export const loadText = (load: Load): string =>
  'kg' in load ? `${hundredths(load.kg)} kg` : `${hundredths(load.newtons)} N`;

const hundredths = (value: number): number => Math.round(value * 100) / 100;

const WRITTEN = /^(\d{1,4}(?:[.,]\d{1,2})?)\s*(kg|lb|n)?$/i;

/**
 * Reads `12`, `12.5 kg`, `25 lb`, `60 N`; a number alone is a mass on a pulley, elsewhere a force.
 * @returns null for nothing written: as the practice says
 */
export function readLoad(text: string, against: Pulled['against']): Load | null | Problem {
  const written = text.trim();
  if (written === '') return null;
  const found = WRITTEN.exec(written);
  const value = Number(found?.[1]?.replace(',', '.'));
  const unit = found?.[2]?.toLowerCase() ?? (against === 'pulley' ? 'kg' : 'n');
  if (!found) return notALoad(text, against);
  if (unit === 'n') return within(value, LOAD_LIMITS.newtons) ? { newtons: value } : notALoad(text, against);
  if (against === 'other') {
    return { message: `“${text}” is a mass, and there is no stack in this set.`, fix: 'Write a force, like 60 N.' };
  }
  const kg = unit === 'lb' ? hundredths(value * KG_PER_LB) : value;
  return within(kg, LOAD_LIMITS.kg) ? { kg } : notALoad(text, against);
}

/** With what power is worked out, `10 : 1, a stack that goes up 2.5 m, timed over 20`, or what is missing for it. */
export function rigWords({ ratio, stackHeightM, timedDistance }: Rig): string {
  if (ratio === undefined) return 'Power needs the ratio of the pulley: write it on the squad page.';
  const stack = stackHeightM === undefined ? [] : [`a stack that goes up ${stackHeightM} m`];
  const timed = timedDistance === undefined ? [] : [`timed over ${timedDistance}`];
  return `Power is worked out with ${[`${ratio} : 1`, ...stack, ...timed].join(', ')}.`;
}

export const isProblem = (read: Load | null | Problem): read is Problem => read !== null && 'message' in read;

const within = (value: number, { least, most }: { readonly least: number; readonly most: number }): boolean =>
  value >= least && value <= most;

function notALoad(text: string, against: Pulled['against']): Problem {
  const { kg, newtons } = LOAD_LIMITS;
  const mass = against === 'pulley' ? `${kg.least} to ${kg.most} kg, or ` : '';
  return {
    message: `“${text}” is not a load.`,
    fix: `Write ${mass}${newtons.least} to ${newtons.most} N; nothing where it was as the practice says.`,
  };
}
