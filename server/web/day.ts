import type { Instant } from '../../shared-types/brand.ts';

/** YYYY-MM-DD in a time zone: Swedish dates are written so. */
export const dayIn = (timezone: string, at: Instant): string =>
  new Intl.DateTimeFormat('sv-SE', { timeZone: timezone, dateStyle: 'short' }).format(at);
