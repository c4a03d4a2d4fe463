import { DEFAULT_POOL, inMetres, type Pool } from '../../shared-types/pool.ts';

/** Reads `2000`, `2,000` or `2 000` of the pool's unit. @returns metres; null when it is no distance */
export function metresIn(text: string, pool: Pool | null): number | null {
  const digits = text.replace(/[\s.,]+(?=\d{3}(?:\D|$))/g, '').trim();
  return /^\d{1,6}$/.test(digits) ? inMetres(Number(digits), (pool ?? DEFAULT_POOL).course) : null;
}
