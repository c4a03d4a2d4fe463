import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { withFolder } from './own-folder.ts';

/**
 * The script of one of the benchmarks' own pages, built as the real ones are.
 * @param name of a file in `pages/`
 * @throws Error of Vite's when it cannot be built
 */
export function bundlePage(name: string): Promise<string> {
  return withFolder(async (folder) => {
    const entry = resolve(import.meta.dirname, 'pages', `${name}.ts`);
    const { build } = await import('vite');
    await build({
      configFile: false,
      logLevel: 'error',
      build: {
        outDir: folder,
        target: 'chrome87',
        // One file, whatever it loads later.
        lib: { entry, formats: ['iife'], name: 'page', fileName: () => 'page.js' },
      },
    });
    return readFileSync(join(folder, 'page.js'), 'utf8');
  });
}
