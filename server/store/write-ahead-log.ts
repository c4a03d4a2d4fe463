import { readFileSync } from 'node:fs';

/**
 * Reads SQLite's write-ahead log (https://sqlite.org/fileformat2.html#the_write_ahead_log) to tell damage from the torn
 * end that a kill or a loss of power leaves. SQLite itself stops at the first frame that does not add up and drops all
 * that follow, without a word: among them could be events that were acknowledged.
 */

const HEADER_BYTES = 32;
const FRAME_HEADER_BYTES = 24;
/** The magic number of a log whose checksums are taken of little-endian words; one more: big-endian. */
const MAGIC = 0x37_7f_06_82;

type Sums = readonly [number, number];

/** Adds whole pairs of 32-bit words to a running checksum. */
function summed(log: DataView, from: number, to: number, [first, second]: Sums, littleEndian: boolean): Sums {
  let s0 = first;
  let s1 = second;
  for (let at = from; at < to; at += 8) {
    s0 = (s0 + log.getUint32(at, littleEndian) + s1) >>> 0;
    s1 = (s1 + log.getUint32(at + 4, littleEndian) + s0) >>> 0;
  }
  return [s0, s1];
}

const pairAt = (log: DataView, at: number): Sums => [log.getUint32(at), log.getUint32(at + 4)];
const equal = (one: Sums, other: Sums): boolean => one[0] === other[0] && one[1] === other[1];

interface LogHeader {
  readonly littleEndian: boolean;
  readonly pageBytes: number;
  readonly salt: Sums;
  readonly sums: Sums;
}

/** The log's header, or null when it does not add up. */
function headerOf(log: DataView): LogHeader | null {
  const magic = log.getUint32(0);
  const pageBytes = log.getUint32(8);
  if ((magic !== MAGIC && magic !== MAGIC + 1) || pageBytes < 512 || pageBytes > 65_536) return null;
  const littleEndian = magic === MAGIC;
  const sums = summed(log, 0, 24, [0, 0], littleEndian);
  return equal(sums, pairAt(log, 24)) ? { littleEndian, pageBytes, salt: pairAt(log, 16), sums } : null;
}

/** Room on the disk that was never filled reads as zeros. */
function isUnfilled(log: DataView): boolean {
  for (let at = 0; at < HEADER_BYTES; at += 4) if (log.getUint32(at) !== 0) return false;
  return true;
}

/**
 * Whether frames that were safely on disk have been changed since. A transaction is begun in the log only after the
 * one before it is on disk. So a good frame after the end of the transaction with a bad one means damage; where
 * nothing good follows that end, it is what a kill or a loss of power leaves. Frames of an earlier use of the file
 * carry another salt.
 */
function isDamaged(log: DataView): boolean {
  if (log.byteLength <= HEADER_BYTES || isUnfilled(log)) return false;
  const header = headerOf(log);
  if (!header) return true;
  const { littleEndian, pageBytes, salt } = header;
  const frameBytes = FRAME_HEADER_BYTES + pageBytes;
  let { sums } = header;
  let badFound = false;
  let badIsOver = false;
  for (let at = HEADER_BYTES; at + frameBytes <= log.byteLength; at += frameBytes) {
    const isOurs = equal(pairAt(log, at + 8), salt);
    const ofHeader = summed(log, at, at + 8, sums, littleEndian);
    const counted = summed(log, at + FRAME_HEADER_BYTES, at + frameBytes, ofHeader, littleEndian);
    // The next frame's checksum goes on from this one's as it stands here.
    sums = pairAt(log, at + 16);
    const isGood = isOurs && equal(counted, sums);
    if (isGood && badIsOver) return true;
    badFound ||= !isGood;
    const endsTransaction = log.getUint32(at + 4) !== 0;
    badIsOver ||= badFound && isOurs && endsTransaction;
  }
  return false;
}

/** [FLT6] @returns whether the file is there and damaged where it had been safely written */
export function isLogDamaged(file: string): boolean {
  try {
    const bytes = readFileSync(file);
    return isDamaged(new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength));
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return false;
    throw error;
  }
}
