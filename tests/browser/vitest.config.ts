import { defineConfig } from 'vitest/config';

/** Tests that need a real browser: one at a time, for two cores hold no more. */
export default defineConfig({
  test: {
    root: import.meta.dirname,
    include: ['**/*.test.ts'],
    fileParallelism: false,
    testTimeout: 300_000,
    hookTimeout: 120_000,
  },
});
