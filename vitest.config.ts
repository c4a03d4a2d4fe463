import { defineConfig } from 'vitest/config';

const node = { environment: 'node', include: [] as string[] };

export default defineConfig({
  test: {
    projects: [
      {
        test: {
          ...node,
          name: 'quick',
          include: ['tests/unit/**/*.test.ts', 'tests/property/**/*.test.ts', 'tests/faults/**/*.test.ts'],
          testTimeout: 30_000,
        },
      },
      {
        test: {
          ...node,
          name: 'browser',
          include: ['tests/browser/**/*.test.ts'],
          globalSetup: ['tests/browser/setup.ts'],
          // One Chromium at a time: two cores.
          fileParallelism: false,
          testTimeout: 120_000,
          hookTimeout: 120_000,
        },
      },
    ],
  },
});
