import { hexOf, type PracticeId, practiceIdSchema } from '../../shared-types/brand.ts';

/** A fresh practice id; `getRandomValues` is there on plain http too. */
export const newPracticeId = (): PracticeId =>
  practiceIdSchema.parse(hexOf(crypto.getRandomValues(new Uint8Array(16))));
