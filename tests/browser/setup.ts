import { execFileSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import type { TestProject } from 'vitest/node';
import { findChromium } from './find-chromium.ts';

/** Runs once before the browser tests: finds (or installs) a Chromium and builds the pages they open. */
export default function setup(project: TestProject): void {
  project.provide('chromium', findChromium());
  const root = fileURLToPath(new URL('../../', import.meta.url));
  execFileSync(process.execPath, ['node_modules/vite/bin/vite.js', 'build', '--logLevel', 'warn'], {
    cwd: root,
    stdio: 'inherit',
  });
}

declare module 'vitest' {
  interface ProvidedContext {
    chromium: string;
  }
}
