import type { ClockFace } from '../../shared-types/time.ts';

export const formatIn = (timezone: string, parts: Intl.DateTimeFormatOptions): Intl.DateTimeFormat =>
  new Intl.DateTimeFormat('en-GB', { timeZone: timezone, ...parts });

/** `15 Jan` on the pool's clock. @param at ms since 1970 */
export const shortDay = (at: number, { timezone, trimMs }: ClockFace): string =>
  formatIn(timezone, { day: 'numeric', month: 'short' }).format(at + trimMs);

/** `15 Jan 2027` on the pool's clock. @param at ms since 1970 */
export const dayOfYear = (at: number, { timezone, trimMs }: ClockFace): string =>
  formatIn(timezone, { day: 'numeric', month: 'short', year: 'numeric' }).format(at + trimMs);

/** `Fri 15 Jan 2027` on the pool's clock. @param at ms since 1970 */
export const longDay = (at: number, { timezone, trimMs }: ClockFace): string =>
  formatIn(timezone, { weekday: 'short', day: 'numeric', month: 'short', year: 'numeric' })
    .format(at + trimMs)
    .replace(',', '');
