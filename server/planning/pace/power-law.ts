/** A time a swimmer has swum over a distance. */
export interface SwumTime {
  /** In the course's unit. */
  readonly distance: number;
  readonly timeMs: number;
}

export interface PowerLaw {
  readonly shorter: SwumTime;
  readonly longer: SwumTime;
  /** k of t = a · D^k. */
  readonly exponent: number;
}

/** How far outside the swimmer's own distances an estimate may reach, as a factor. */
const REACH = 2;

/**
 * The power law t = a · D^k through a swimmer's own two times, k = ln(t₂/t₁) / ln(D₂/D₁); null for one distance only, and
 * where the longer race was swum at a faster pace than the shorter (k < 1): the times are not of the same form.
 */
export function powerLawThrough(a: SwumTime, b: SwumTime): PowerLaw | null {
  const [shorter, longer] = a.distance < b.distance ? [a, b] : [b, a];
  if (shorter.distance === longer.distance) return null;
  const exponent = Math.log(longer.timeMs / shorter.timeMs) / Math.log(longer.distance / shorter.distance);
  return exponent >= 1 ? { shorter, longer, exponent } : null;
}

/** The time for a distance by the law, ms. */
export const timeByLaw = ({ shorter, exponent }: PowerLaw, distance: number): number =>
  shorter.timeMs * (distance / shorter.distance) ** exponent;

/**
 * The law through the two of these times that lie nearest to the distance: around it where possible, else the two on
 * its side. Null for fewer than two times, and for a distance of more than twice the longest or less than half the
 * shortest.
 */
export function lawFor(times: readonly SwumTime[], distance: number): PowerLaw | null {
  const ordered = [...times].sort((a, b) => a.distance - b.distance);
  const last = ordered[ordered.length - 1];
  const first = ordered[0];
  if (!first || !last || distance < first.distance / REACH || distance > last.distance * REACH) return null;
  const after = ordered.findIndex((time) => time.distance > distance);
  const upper = Math.min(Math.max(after === -1 ? ordered.length - 1 : after, 1), ordered.length - 1);
  const [a, b] = [ordered[upper - 1], ordered[upper]];
  return a && b ? powerLawThrough(a, b) : null;
}
