import { defineConfig } from 'vitest/config';

/**
 * What takes too long for every run: the alignment in both browsers, on dense screens too, and in both browsers
 * what else one of them is enough for day by day (`briefly` in tests/browser/drive).
 */
export default defineConfig({
  test: {
    root: new URL('../..', import.meta.url).pathname,
    include: ['tests/browser/**/*.test.{mjs,ts}'],
    globalSetup: ['tests/browser/drive/global.mjs'],
    env: { HOLDFAST_ALIGN: 'chromium,firefox', HOLDFAST_DENSITIES: '1,2', HOLDFAST_LONG: '1' },
    fileParallelism: false,
    testTimeout: 900_000,
    hookTimeout: 120_000,
  },
});
