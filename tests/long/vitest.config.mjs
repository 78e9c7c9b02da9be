import { defineConfig } from 'vitest/config';

/** What takes too long for every run: the alignment in both browsers, on dense screens too. */
export default defineConfig({
  test: {
    root: new URL('../..', import.meta.url).pathname,
    include: ['tests/browser/view/**/*.test.ts', 'tests/long/**/*.test.{mjs,ts}'],
    env: { HOLDFAST_ALIGN: 'chromium,firefox', HOLDFAST_DENSITIES: '1,2' },
    fileParallelism: false,
    testTimeout: 900_000,
    hookTimeout: 120_000,
  },
});
