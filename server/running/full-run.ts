import type { Refusal } from '../../shared-types/commands.ts';

/** An answer for good: sent again it would only be refused again. */
export const RUN_IS_FULL: Refusal = {
  ok: false,
  code: 'not-now',
  message: 'No more presses and times of this practice can be stored.',
  fix: 'Put it on the wall anew, and look on the desk which device sends so many.',
};
