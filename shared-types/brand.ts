import { z } from 'zod';

/** A span of time or a place on a lane's own axis, in milliseconds. Whole wherever it is stored or sent. */
export const msSchema = z.number().brand<'Ms'>();
export type Ms = z.infer<typeof msSchema>;

/** A point on the pool's clock: milliseconds since 1970-01-01T00:00Z as the server keeps it. */
export const instantSchema = z.number().brand<'Instant'>();
export type Instant = z.infer<typeof instantSchema>;

/** A lane of the pool, 1 to 12, as written on the blocks. */
export const laneNumberSchema = z.number().int().min(1).max(12).brand<'LaneNumber'>();
export type LaneNumber = z.infer<typeof laneNumberSchema>;

const hex128 = z.string().regex(/^[0-9a-f]{32}$/, 'not a 128-bit id in hex');
export const swimmerIdSchema = hex128.brand<'SwimmerId'>();
export type SwimmerId = z.infer<typeof swimmerIdSchema>;
export const practiceIdSchema = hex128.brand<'PracticeId'>();
export type PracticeId = z.infer<typeof practiceIdSchema>;
export const runIdSchema = hex128.brand<'RunId'>();
export type RunId = z.infer<typeof runIdSchema>;
export const commandIdSchema = hex128.brand<'CommandId'>();
export type CommandId = z.infer<typeof commandIdSchema>;
/** One page in one browser; survives a reload. */
export const deviceIdSchema = hex128.brand<'DeviceId'>();
export type DeviceId = z.infer<typeof deviceIdSchema>;

/** A device that has been paired, with all its pages. */
export const pairedIdSchema = hex128.brand<'PairedId'>();
export type PairedId = z.infer<typeof pairedIdSchema>;

/** SHA-256 of a sheet's canonical JSON, in hex. */
export const sheetHashSchema = z
  .string()
  .regex(/^[0-9a-f]{64}$/, 'not a sheet hash')
  .brand<'SheetHash'>();
export type SheetHash = z.infer<typeof sheetHashSchema>;

const isMs = (n: number): n is Ms => Number.isFinite(n);
const isInstant = (n: number): n is Instant => Number.isFinite(n);
const isLaneNumber = (n: number): n is LaneNumber => Number.isInteger(n) && n >= 1 && n <= 12;

/** @throws RangeError when `n` is not a finite number: that is a bug, never bad input. */
export function ms(n: number): Ms {
  if (!isMs(n)) throw new RangeError(`not a duration: ${n}`);
  return n;
}

/** @throws RangeError when `n` is not a finite number: that is a bug, never bad input. */
export function instant(n: number): Instant {
  if (!isInstant(n)) throw new RangeError(`not an instant: ${n}`);
  return n;
}

/** @throws RangeError when `n` is not a whole number from 1 to 12. */
export function laneNumber(n: number): LaneNumber {
  if (!isLaneNumber(n)) throw new RangeError(`not a lane: ${n}`);
  return n;
}

/** 128 bits, as from `crypto.getRandomValues(new Uint8Array(16))`, written as 32 hex digits. */
export const hexOf = (bytes: Uint8Array): string =>
  Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
