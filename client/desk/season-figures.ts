import type { Instant, SwimmerId } from '../../shared-types/brand.ts';
import type { Occurrence, SwumOnce } from '../../shared-types/wire/history.ts';

/** Whose times are looked at: one swimmer's, or the mean of all. */
export type SeasonOf = SwimmerId | 'squad';

/** By how much it was slower than the time before, ms; below 0: faster. */
export interface SeasonChange {
  readonly ms: number;
  /** strict: the same send-off and effort as then; loose: another one. */
  readonly likeness: 'strict' | 'loose';
  /** When it was swum then; null where that differs among the swimmers. */
  readonly sinceAt: Instant | null;
  /** How many swimmers have swum it before. */
  readonly swimmers: number;
}

/** What a set came to once, of one swimmer or of the squad. */
export interface SeasonRow {
  readonly occurrence: Occurrence;
  /** Those whose times these are. */
  readonly swum: readonly SwumOnce[];
  /** Of the squad the mean of its swimmers' means; null when nothing was timed. */
  readonly meanMs: number | null;
  readonly best: { readonly ms: number; readonly swimmer: SwimmerId } | null;
  /** Null for who has not swum it before, or without times. */
  readonly change: SeasonChange | null;
  /** With send-off and effort of the newest one. */
  readonly isStrict: boolean;
}

const meanOf = (values: readonly number[]): number | null =>
  values.length === 0 ? null : values.reduce((sum, value) => sum + value, 0) / values.length;

const known = (values: readonly (number | null)[]): number[] => values.flatMap((value) => value ?? []);

const ownOf = ({ swimmers }: Occurrence, of: SeasonOf): readonly SwumOnce[] =>
  of === 'squad' ? swimmers : swimmers.filter(({ swimmer }) => swimmer === of);

/** Each time that they swam it, in order of time. */
export function seasonRows(occurrences: readonly Occurrence[], of: SeasonOf): SeasonRow[] {
  const swumBy = occurrences.filter((occurrence) => ownOf(occurrence, of).length > 0);
  const newest = swumBy[swumBy.length - 1];
  const asNewest = new Set(newest && ownOf(newest, of).map(({ strict }) => strict));
  return swumBy.map((occurrence, place) => {
    const swum = ownOf(occurrence, of);
    return {
      occurrence,
      swum,
      meanMs: meanOf(known(swum.map(({ meanMs }) => meanMs))),
      best: bestOf(swum),
      change: changeOf(swum, swumBy.slice(0, place)),
      isStrict: swum.every(({ strict }) => asNewest.has(strict)),
    };
  });
}

function bestOf(swum: readonly SwumOnce[]): SeasonRow['best'] {
  return swum.reduce<SeasonRow['best']>(
    (best, { bestMs, swimmer }) => (bestMs === null || (best && best.ms <= bestMs) ? best : { ms: bestMs, swimmer }),
    null,
  );
}

interface Before {
  readonly at: Instant;
  readonly meanMs: number;
  readonly strict: string;
}

/**
 * The mean of what each swimmer has changed since that swimmer's own time before: who swims only once does not move it.
 * As in a set's results: strictly the same before loosely the same, and only what was swum to its end.
 */
function changeOf(swum: readonly SwumOnce[], earlier: readonly Occurrence[]): SeasonChange | null {
  const changes = swum.flatMap((own) => {
    const before = lastBefore(own, earlier);
    return own.meanMs === null || !before ? [] : [{ before, ms: own.meanMs - before.meanMs, strict: own.strict }];
  });
  const ms = meanOf(changes.map((change) => change.ms));
  if (ms === null) return null;
  const [sinceAt = null, ...others] = new Set(changes.map(({ before }) => before.at));
  return {
    ms,
    likeness: changes.every(({ before, strict }) => before.strict === strict) ? 'strict' : 'loose',
    sinceAt: others.length > 0 ? null : sinceAt,
    swimmers: changes.length,
  };
}

function lastBefore({ swimmer, strict }: SwumOnce, earlier: readonly Occurrence[]): Before | null {
  const own = earlier.flatMap(({ at, swimmers }) =>
    swimmers.flatMap((one): Before[] =>
      one.swimmer === swimmer && one.isWhole && one.meanMs !== null
        ? [{ at, meanMs: one.meanMs, strict: one.strict }]
        : [],
    ),
  );
  const same = own.filter((one) => one.strict === strict);
  return same[same.length - 1] ?? own[own.length - 1] ?? null;
}

/** Everybody who has swum it, the most often first. */
export function swimmersOf(occurrences: readonly Occurrence[]): SwimmerId[] {
  const times = new Map<SwimmerId, number>();
  for (const { swimmer } of occurrences.flatMap(({ swimmers }) => swimmers)) {
    times.set(swimmer, (times.get(swimmer) ?? 0) + 1);
  }
  return [...times].sort(([, a], [, b]) => b - a).map(([swimmer]) => swimmer);
}
