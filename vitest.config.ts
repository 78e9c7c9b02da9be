import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: { include: ['tests/{core,repo,sound}/**/*.test.ts'], testTimeout: 60_000 },
});
