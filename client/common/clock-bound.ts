import type { ScreenInfo } from '../../shared-types/wire/from-server.ts';

/** [SYN5] How far a screen's clock may be off, in words. Pure. */

/** Beyond this a clock's error shows in a swimmer's send-off, ms. */
const WARN_ABOVE_MS = 50;

export const isUncertain = (boundMs: number): boolean => boundMs > WARN_ABOVE_MS;

/** `80 ms`, not broken over lines, and never less than 1 ms: a bound of nothing would be a lie. */
export const boundText = (boundMs: number): string => `${Math.max(1, Math.ceil(boundMs))}\u00a0ms`;

/** The bound of the wall whose clock is known worst; null without a wall that has measured its clock. */
export function worstWallMs(screens: readonly ScreenInfo[]): number | null {
  const bounds = screens.flatMap(({ role, syncBoundMs }) =>
    role === 'wall' && syncBoundMs !== null ? [syncBoundMs] : [],
  );
  return bounds.length > 0 ? Math.max(...bounds) : null;
}
