/** Send-offs are read off a pace clock: multiples of :05, ms. */
const STEP_MS = 5000;

/**
 * The shortest cycle, a multiple of :05, that leaves at least `restMs` after a swim of `slowestMs`.
 * @returns ms
 */
export const cycleWithRest = (slowestMs: number, restMs: number): number =>
  Math.ceil((slowestMs + restMs) / STEP_MS) * STEP_MS;

/**
 * For each pace group the smallest multiple of :05 that leaves everyone at least the asked rest.
 * @param slowestMsByGroup the slowest target of each group, ms
 */
export const suggestSendOffs = (
  slowestMsByGroup: ReadonlyMap<string, number>,
  restMs: number,
): ReadonlyMap<string, number> =>
  new Map([...slowestMsByGroup].map(([group, slowestMs]) => [group, cycleWithRest(slowestMs, restMs)]));
