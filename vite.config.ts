import { readFileSync, writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { gzipSync } from 'node:zlib';
import { defineConfig, type Plugin } from 'vite';

const page = (name: string): string => resolve(import.meta.dirname, 'client', name, 'index.html');

/** Fonts and pictures are packed already. */
const PACKABLE = /\.(js|css|svg)$/;

/** Beside what pages load lies the same packed, for the server to send: a pool's radio is slow. */
const packed: Plugin = {
  name: 'farwall-packed',
  apply: 'build',
  writeBundle({ dir }, bundle) {
    for (const name of Object.keys(bundle)) {
      if (!dir || !PACKABLE.test(name)) continue;
      const file = resolve(dir, name);
      writeFileSync(`${file}.gz`, gzipSync(readFileSync(file), { level: 9 }));
    }
  },
};

export default defineConfig({
  root: resolve(import.meta.dirname, 'client'),
  base: '/',
  plugins: [packed],
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  build: {
    outDir: resolve(import.meta.dirname, 'dist'),
    emptyOutDir: true,
    // Browsers built into televisions are years old.
    target: 'chrome87',
    // A strict content security policy allows no data: scripts or styles.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    // The desk's, with its editor: it is opened on the laptop that serves it. What the wall loads is held by its benchmark.
    chunkSizeWarningLimit: 650,
    rolldownOptions: {
      input: { choose: page('.'), wall: page('wall'), deck: page('deck'), desk: page('desk'), pair: page('pair') },
    },
  },
});
