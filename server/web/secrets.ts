import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';
import { CODE_SIGNS } from '../../shared-types/wire/pairing.ts';

/** So many signs are 160 random bits. */
export const KEY_LENGTH = 32;

const SECRET_BYTES = 32;

/** 256 random bits, as they stand in a cookie. */
export const newSecret = (): string => randomBytes(SECRET_BYTES).toString('base64url');

/** So many random signs of those that are not taken for one another; each is 5 bits, none more likely than another. */
export const randomCode = (length: number): string =>
  Array.from(randomBytes(length), (byte) => CODE_SIGNS[byte % CODE_SIGNS.length]).join('');

/** In hex. What is hashed is random and long, or counts for minutes: nothing is won by a slower hash. */
export const hashOf = (secret: string): string => createHash('sha256').update(secret).digest('hex');

/** Whether it is the secret of this hash; how long that takes tells nothing about where they differ. */
export const isSecretOf = (secret: string, hash: string): boolean =>
  timingSafeEqual(Buffer.from(hashOf(secret)), Buffer.from(hash));
