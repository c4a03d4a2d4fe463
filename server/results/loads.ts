import type { RepLoad } from '../../shared-types/loads.ts';
import { RESISTED } from '../../shared-types/practice.ts';
import { isKnown, type RepTime } from '../../shared-types/results.ts';
import type { SheetSet } from '../../shared-types/sheet.ts';
import { loadIn } from './power.ts';

type Equipped = Pick<SheetSet, 'equipment'>;

/** On a pulley, on a cord or parachute, or null: nothing that a swimmer pulls against. */
export function ropeOf({ equipment }: Equipped): 'pulley' | 'other' | null {
  const load = loadIn(equipment);
  if (isKnown(load) || load.none !== 'no pulley') return 'pulley';
  return equipment.some((words) => RESISTED.some((name) => words === name)) ? 'other' : null;
}

/** Why loads cannot be kept, in words. */
interface LoadSlip {
  readonly message: string;
  readonly fix?: string;
}

/**
 * What is wrong with loads that were written down for a swimmer's reps of a set; null when nothing is.
 * @param reps all the swimmer's reps of the set
 */
export function slipIn(
  loads: readonly RepLoad[],
  set: Equipped,
  reps: readonly Pick<RepTime, 'step'>[],
): LoadSlip | null {
  const rope = ropeOf(set);
  if (rope === null) return { message: 'Nothing is pulled against in this set, so it has no loads.' };
  if (rope === 'other' && loads.some(({ load }) => 'kg' in load)) {
    return {
      message: 'A mass is of the stack of a pulley, and this set has none.',
      fix: 'Write the force of the rope in newtons, like 60 N.',
    };
  }
  const steps = loads.map(({ step }) => step);
  if (new Set(steps).size < steps.length) return { message: 'A rep has two loads.', fix: 'Write one for each.' };
  if (steps.every((step) => reps.some((rep) => rep.step === step))) return null;
  return {
    message: 'A load is for a rep that this swimmer does not have in the set.',
    fix: 'Look at the results again: the practice may have been changed.',
  };
}
