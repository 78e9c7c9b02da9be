import { defineConfig } from 'vitest/config';

/** Real browsers, one at a time: they share two cores and one sound server. */
export default defineConfig({
  test: {
    root: new URL('../..', import.meta.url).pathname,
    include: ['tests/browser/**/*.test.{mjs,ts}'],
    globalSetup: ['tests/browser/drive/global.mjs'],
    fileParallelism: false,
    testTimeout: 180_000,
    hookTimeout: 120_000,
  },
});
