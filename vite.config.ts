import { cpSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { defineConfig, type Plugin } from 'vite';

const root = import.meta.dirname;
const dist = resolve(root, process.env.HOLDFAST_DIST ?? 'dist');

/** Browsers want one file a language; the sources keep one a screen. */
function packStrings() {
  const source = resolve(root, 'src/_locales');
  for (const language of readdirSync(source)) {
    const messages: Record<string, unknown> = {};
    for (const file of readdirSync(resolve(source, language)))
      Object.assign(messages, JSON.parse(readFileSync(resolve(source, language, file), 'utf8')));
    mkdirSync(resolve(dist, '_locales', language), { recursive: true });
    writeFileSync(resolve(dist, '_locales', language, 'messages.json'), JSON.stringify(messages));
  }
}

/** Packs what pdf.js loads by name at run time, the manifest, the strings, the icons and the first sample. */
function packaged(): Plugin {
  return {
    name: 'packaged',
    closeBundle() {
      const pdfjs = resolve(root, 'node_modules/pdfjs-dist');
      mkdirSync(dist, { recursive: true });
      for (const folder of ['cmaps', 'standard_fonts', 'wasm', 'iccs'])
        cpSync(resolve(pdfjs, folder), resolve(dist, 'pdfjs', folder), {
          recursive: true,
          // The sandbox that runs scripts of PDFs is left out on purpose.
          filter: (path) => !/quickjs|LICENSE/i.test(path),
        });
      cpSync(resolve(root, 'manifest.json'), resolve(dist, 'manifest.json'));
      packStrings();
      for (const file of ['first.pdf', 'first.marks.json'])
        cpSync(resolve(root, 'sample-pdfs', file), resolve(dist, 'sample', file));
      cpSync(resolve(root, 'src/ui/icons'), resolve(dist, 'icons'), { recursive: true });
    },
  };
}

export default defineConfig({
  root: resolve(root, 'src'),
  base: './',
  publicDir: false,
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  worker: { format: 'es' },
  build: {
    outDir: dist,
    emptyOutDir: true,
    target: ['chrome125', 'firefox142'],
    modulePreload: false,
    assetsInlineLimit: 0,
    rolldownOptions: {
      input: {
        stand: resolve(root, 'src/stand/index.html'),
        tunes: resolve(root, 'src/tunes/index.html'),
        opener: resolve(root, 'src/background/opener.html'),
        background: resolve(root, 'src/background/background.ts'),
      },
      output: {
        entryFileNames: (chunk) =>
          chunk.name === 'background' ? 'background.js' : 'assets/[name]-[hash].js',
      },
    },
  },
  plugins: [packaged()],
});
