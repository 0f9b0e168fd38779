import { defineConfig } from 'vitest/config';

const root = new URL('..', import.meta.url).pathname;

export default defineConfig({
  root,
  test: {
    projects: [
      {
        test: {
          name: 'unit',
          root,
          include: ['tests/**/*.test.ts'],
          exclude: ['tests/browser/**', 'tests/reliability/**', '**/node_modules/**'],
          // A whole run engraves its notes; on a busy machine that takes longer than the usual five seconds.
          testTimeout: 30_000,
        },
      },
      {
        test: {
          name: 'reliability',
          root,
          include: ['tests/reliability/**/*.test.ts'],
          testTimeout: 120_000,
          hookTimeout: 60_000,
          fileParallelism: false,
        },
      },
      {
        test: {
          name: 'browser',
          root,
          include: ['tests/browser/**/*.test.ts'],
          testTimeout: 120_000,
          hookTimeout: 60_000,
          fileParallelism: false,
          // One page is laid out while the server works out the next step of the other.
          maxConcurrency: 2,
        },
      },
    ],
  },
});
