/** Two spellings of a name that differ only in case, spaces or the bytes of their accents are one swimmer's. */
export const nameKey = (name: string): string => name.normalize('NFC').trim().replace(/\s+/g, ' ').toLowerCase();
