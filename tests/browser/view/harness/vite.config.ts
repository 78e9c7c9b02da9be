import { cpSync } from 'node:fs';
import { resolve } from 'node:path';
import { defineConfig } from 'vite';

const root = import.meta.dirname;
const out = process.env.HARNESS_OUT ?? resolve(root, '../../../../node_modules/.cache/view-harness');

/** The view alone on a page, with what pdf.js loads by name beside it, as in the extension. */
export default defineConfig({
  root,
  base: '/',
  publicDir: false,
  logLevel: 'warn',
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  build: { outDir: out, emptyOutDir: true, target: ['chrome120', 'firefox142'], assetsInlineLimit: 0 },
  plugins: [
    {
      name: 'pdfjs-files',
      closeBundle() {
        for (const folder of ['cmaps', 'standard_fonts', 'wasm', 'iccs'])
          cpSync(
            resolve(root, '../../../../node_modules/pdfjs-dist', folder),
            resolve(out, 'pdfjs', folder),
            {
              recursive: true,
            },
          );
      },
    },
  ],
});
