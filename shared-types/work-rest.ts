/**
 * How long a swimmer rests for each part of swimming, `1:r` with r to one decimal, half up: 30 s and 40 s of rest are `1:1.3`.
 * @param ms the swim, milliseconds
 * @param restMs the rest after it, milliseconds
 * @returns null where there is no swim or no rest
 */
export function workRest(ms: number | null, restMs: number | null): string | null {
  if (ms === null || restMs === null || ms <= 0 || restMs <= 0) return null;
  // Tenths from whole milliseconds in one division, so that halves stay exact.
  return `1:${(Math.floor((restMs * 10) / ms + 0.5) / 10).toFixed(1)}`;
}
