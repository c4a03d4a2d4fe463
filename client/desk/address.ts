import { type RunId, runIdSchema, type SwimmerId, swimmerIdSchema } from '../../shared-types/brand.ts';

const AREAS = ['practice', 'plan', 'squad', 'today', 'results'] as const;
export type AreaName = (typeof AREAS)[number];

/** Where on the desk somebody is. It stands in the page's address, so that Back works and a reload stays there. */
export type Place =
  | { readonly area: Exclude<AreaName, 'results' | 'squad'> }
  /** `swimmer` null: all of them. */
  | { readonly area: 'squad'; readonly swimmer: SwimmerId | typeof NEW_SWIMMER | null }
  /** `run` null: the one that was chosen before, else the newest. */
  | { readonly area: 'results'; readonly page: 'practices'; readonly run: RunId | null }
  /** `signature` null: none is chosen. */
  | { readonly area: 'results'; readonly page: 'season'; readonly signature: string | null }
  | { readonly area: 'results'; readonly page: 'weeks' };

/** Stands in the address in the place of somebody who is yet to be added. */
export const NEW_SWIMMER = 'new';

export const swimmerAddress = (swimmer: SwimmerId | typeof NEW_SWIMMER): string => `#squad/${swimmer}`;
export const runAddress = (run: RunId): string => `#results/practices/${run}`;
export const seasonAddress = (signature: string): string => `#results/season/${encodeURIComponent(signature)}`;

/** @param hash of the address, `#results/weeks`; where it says nothing known, the first area */
export function placeIn(hash: string): Place {
  const [named, page, chosen] = hash.replace(/^#/, '').split('/');
  const area = AREAS.find((name) => name === named) ?? 'practice';
  if (area === 'squad') return { area, swimmer: swimmerNamed(page) };
  if (area !== 'results') return { area };
  if (page === 'weeks') return { area, page };
  if (page === 'season') return { area, page, signature: decoded(chosen) };
  const run = runIdSchema.safeParse(chosen);
  return { area, page: 'practices', run: run.success ? run.data : null };
}

function swimmerNamed(name: string | undefined): SwimmerId | typeof NEW_SWIMMER | null {
  return name === NEW_SWIMMER ? name : (swimmerIdSchema.safeParse(name).data ?? null);
}

function decoded(text = ''): string | null {
  try {
    return decodeURIComponent(text) || null;
  } catch {
    // Somebody has cut the address in the middle of a character.
    return null;
  }
}
