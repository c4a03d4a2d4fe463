import { createHash } from 'node:crypto';
import { type SheetHash, sheetHashSchema } from '../../shared-types/brand.ts';

const sortedKeys = (_key: string, value: unknown): unknown =>
  typeof value === 'object' && value !== null && !Array.isArray(value)
    ? Object.fromEntries(Object.entries(value).sort(([one], [other]) => (one < other ? -1 : 1)))
    : value;

/** JSON in which the order of keys does not depend on how the value was made. */
export const canonicalJson = (value: unknown): string => JSON.stringify(value, sortedKeys);

/** SHA-256 of a sheet's canonical JSON. */
export const sheetHash = (sheetText: string): SheetHash =>
  sheetHashSchema.parse(createHash('sha256').update(sheetText).digest('hex'));
