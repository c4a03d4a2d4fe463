import { resolve } from 'node:path';
import { defineConfig } from 'vite';

const page = (name: string): string => resolve(import.meta.dirname, 'client', name, 'index.html');

export default defineConfig({
  root: resolve(import.meta.dirname, 'client'),
  base: '/',
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  build: {
    outDir: resolve(import.meta.dirname, 'dist'),
    emptyOutDir: true,
    // Browsers built into televisions are years old.
    target: 'chrome87',
    // A strict content security policy allows no data: scripts or styles.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    rolldownOptions: {
      input: { choose: page('.'), wall: page('wall'), deck: page('deck'), desk: page('desk') },
    },
  },
});
