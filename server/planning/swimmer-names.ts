import { asName } from '../../shared-types/plain-name.ts';

/** Two spellings of a name that differ only in case, spaces, joiners or the bytes of their accents are one swimmer's. */
export const nameKey = (name: string): string =>
  asName(name)
    .replace(/\p{Default_Ignorable_Code_Point}/gu, '')
    .toLowerCase();
