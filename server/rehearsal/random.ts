/** Numbers that only depend on what they are drawn for. */

/** 32 bits of a text: FNV-1a over its UTF-16 units. */
function hashOf(text: string): number {
  let hash = 0x811c9dc5;
  for (let place = 0; place < text.length; place += 1) {
    hash = Math.imul(hash ^ text.charCodeAt(place), 0x01000193);
  }
  return hash >>> 0;
}

/**
 * Numbers from 0 up to 1 that only depend on the seed and what they are for: so one swim is the same whatever else
 * happens, and in whatever order it is asked for. The generator is mulberry32 (Tommy Ettinger, public domain).
 */
export function drawsFor(seed: number, ...what: readonly (string | number)[]): () => number {
  let state = hashOf([seed, ...what].join('\n'));
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** One number of the standard normal distribution (Box and Muller 1958). */
export function normal(draw: () => number): number {
  // 1 − u is never 0, so the logarithm is finite.
  return Math.sqrt(-2 * Math.log(1 - draw())) * Math.cos(2 * Math.PI * draw());
}
