import { resolve } from 'node:path';
import { defineConfig } from 'vite';

const root = import.meta.dirname;

/** The bare viewer, to be laid into a copy of the built extension as bare/index.html. */
export default defineConfig({
  root,
  base: './',
  publicDir: false,
  logLevel: 'warn',
  build: {
    outDir: process.env.BARE_OUT ?? resolve(root, '../../../node_modules/.cache/bare'),
    emptyOutDir: true,
    target: ['chrome120', 'firefox142'],
    modulePreload: false,
    assetsInlineLimit: 0,
    chunkSizeWarningLimit: 2000,
  },
});
