import { hexOf } from '../shared-types/brand.ts';

/** A new 128-bit random id, in hex. */
export const randomId = (): string => hexOf(crypto.getRandomValues(new Uint8Array(16)));
