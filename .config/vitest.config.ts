import { defineConfig } from 'vitest/config'

const root = new URL('..', import.meta.url).pathname

/** Four suites; `tests/run.mjs` decides which can run on this machine and says what it left out. */
export default defineConfig({
  root,
  test: {
    testTimeout: 30_000,
    hookTimeout: 60_000,
    projects: [
      {
        extends: true,
        root,
        test: {
          name: 'unit',
          include: [
            'packages/**/*.spec.{ts,tsx}',
            'db/**/*.spec.ts',
            'fixtures/**/*.spec.ts',
            'apps/web/**/*.spec.{ts,tsx}',
            'apps/server/**/*.unit.spec.ts',
          ],
        },
      },
      { extends: true, root, test: { name: 'published', include: ['tests/published/**/*.spec.ts'] } },
      {
        extends: true,
        root,
        test: {
          name: 'api',
          include: ['apps/server/**/*.api.spec.ts', 'tests/api/**/*.spec.ts'],
          testTimeout: 240_000,
          hookTimeout: 240_000,
          fileParallelism: false,
        },
      },
      {
        extends: true,
        root,
        test: {
          name: 'browser',
          include: ['tests/browser/**/*.spec.ts'],
          testTimeout: 300_000,
          hookTimeout: 300_000,
          fileParallelism: false,
        },
      },
    ],
  },
})
