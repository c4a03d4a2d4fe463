import { existsSync } from 'node:fs';
import { resolve } from 'node:path';

/** Where the built pages lie. */
export const PAGES_FOLDER = resolve(import.meta.dirname, '../dist');
export const VITE_CONFIG = resolve(import.meta.dirname, '../vite.config.ts');

export const PAGE_NAMES = ['wall', 'deck', 'desk'] as const;

export const pagesAreBuilt = (): boolean => existsSync(resolve(PAGES_FOLDER, 'wall/index.html'));

/**
 * Builds the pages into the folder they are served from.
 * @throws Error of Vite's when the pages cannot be built
 */
export async function buildPages(): Promise<void> {
  const { build } = await import('vite');
  await build({ configFile: VITE_CONFIG, logLevel: 'error' });
}
