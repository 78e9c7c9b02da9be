import { defineConfig } from 'vite';

/** How a page of the tests is built that is laid into a copy of the built extension. */
export const pageConfig = (root: string, outDir: string) =>
  defineConfig({
    root,
    base: './',
    publicDir: false,
    logLevel: 'warn',
    build: {
      outDir,
      emptyOutDir: true,
      target: ['chrome120', 'firefox142'],
      modulePreload: false,
      assetsInlineLimit: 0,
      chunkSizeWarningLimit: 2000,
    },
  });
