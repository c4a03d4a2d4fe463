import { type Course, inMetres, unitOf } from '../../shared-types/pool.ts';
import { RIG_LIMITS, type Rig, stackRise } from '../../shared-types/rig.ts';
import type { Problem } from './problem.ts';

/** The pool's pulley as the form's fields hold it; empty: not known. */
interface RigFields {
  readonly ratio: string;
  readonly stackHeight: string;
  readonly timedOver: string;
}

const written = (value: number | undefined): string => (value === undefined ? '' : String(value));

export const rigFieldsOf = (rig: Rig = {}): RigFields => ({
  ratio: written(rig.ratio),
  stackHeight: written(rig.stackHeightM),
  timedOver: written(rig.timedDistance),
});

/** A number within limits as coaches write it, also with a decimal comma; null when it is none. */
export function decimalFrom(
  text: string,
  { least, most }: { readonly least: number; readonly most: number },
): number | null {
  const read = /^\d{1,4}(?:[.,]\d{1,3})?$/.exec(text.trim())?.[0];
  const value = read === undefined ? Number.NaN : Number(read.replace(',', '.'));
  return value >= least && value <= most ? value : null;
}

/** The pulley as the fields say it, or the first thing that cannot be used. */
export function rigFrom(fields: RigFields, course: Course): Rig | Problem {
  // "10:1" and "10 : 1" are how a ratio is said.
  const ratio = optional(fields.ratio.replace(/\s*:\s*1\s*$/, ''), RIG_LIMITS.ratio);
  if (ratio === null) {
    return {
      message: `“${fields.ratio}” is not a pulley’s ratio.`,
      fix: 'Write how many metres of rope come out for 1 m that the stack goes up, 1 to 50, or nothing.',
    };
  }
  const stackHeightM = optional(fields.stackHeight, RIG_LIMITS.stackHeightM);
  if (stackHeightM === null) {
    return {
      message: `“${fields.stackHeight}” m is not how far a stack goes up.`,
      fix: 'Write 0.2 to 20 metres, or nothing.',
    };
  }
  const timedDistance = optional(fields.timedOver, RIG_LIMITS.timedDistance);
  if (timedDistance === null) {
    return {
      message: `“${fields.timedOver}” ${unitOf(course)} is not a distance that is timed.`,
      fix: 'Write 1 to 50, or nothing for whole reps.',
    };
  }
  const rig = { ratio, stackHeightM, timedDistance };
  return tooLow(rig, course) ?? known(rig);
}

const optional = (
  text: string,
  limits: { readonly least: number; readonly most: number },
): number | undefined | null => (text.trim() === '' ? undefined : decimalFrom(text, limits));

type Read = { readonly [name in keyof Rig]: number | undefined };

/** With its stack at the upper stop a swimmer is held fast: no time over such a distance says anything. */
function tooLow({ ratio, stackHeightM, timedDistance }: Read, course: Course): Problem | null {
  if (ratio === undefined || stackHeightM === undefined || timedDistance === undefined) return null;
  const rise = stackRise(inMetres(timedDistance, course), ratio);
  if (rise <= stackHeightM) return null;
  return {
    message: `Over ${timedDistance} ${unitOf(course)} at ${ratio} : 1 the stack would go up ${rise.toFixed(1)} m, and it goes up ${stackHeightM} m.`,
    fix: 'Mend one of the three.',
  };
}

const known = ({ ratio, stackHeightM, timedDistance }: Read): Rig => ({
  ...(ratio === undefined ? {} : { ratio }),
  ...(stackHeightM === undefined ? {} : { stackHeightM }),
  ...(timedDistance === undefined ? {} : { timedDistance }),
});
