import { LONGEST_SHORT, parseEvent } from '../../shared-types/squad.ts';

/** The columns that say who a swimmer is and where they swim; the same in each of a swimmer's rows. */
export const OWN_FIELDS = ['lane', 'order', 'group', 'category', 'main', 'short'] as const;
export type OwnField = (typeof OWN_FIELDS)[number];

export const OWN_FIELD_WORDS: Readonly<Record<OwnField, string>> = {
  short: `a short name (at most ${LONGEST_SHORT} letters)`,
  lane: 'a lane (1 to 12)',
  order: 'a place in the lane (1 to 12)',
  group: 'a pace group (one letter, A the fastest)',
  category: 'a category (women or men)',
  main: 'an event; write it like 200 fly',
};

const WOMEN = /^(women|woman|w|female|f|girls|girl)$/i;
const MEN = /^(men|man|m|male|boys|boy)$/i;

/** What a cell says; null when it cannot be read. */
export function readOwnField(field: OwnField, written: string): unknown {
  if (field === 'short') return written.length <= LONGEST_SHORT ? written : null;
  if (field === 'main') return parseEvent(written);
  if (field === 'group') return /^[a-z]$/i.test(written) ? written.toUpperCase() : null;
  if (field === 'category') return WOMEN.test(written) ? 'women' : MEN.test(written) ? 'men' : null;
  const number = Number(written);
  return /^\d{1,2}$/.test(written) && number >= 1 && number <= 12 ? number : null;
}
