import { resolve } from 'node:path';
import { defineConfig } from 'vite';

const root = import.meta.dirname;

/** The bench's page, to be laid into a copy of the built extension as bench/index.html. */
export default defineConfig({
  root,
  base: './',
  publicDir: false,
  logLevel: 'warn',
  build: {
    outDir: process.env.BENCH_OUT ?? resolve(root, '../../../node_modules/.cache/bench'),
    emptyOutDir: true,
    target: ['chrome120', 'firefox142'],
    modulePreload: false,
    assetsInlineLimit: 0,
  },
});
