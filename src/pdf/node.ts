/** Opens PDFs in Node, for the commands: pdf.js's build for older engines, its worker in this thread. */
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { getDocument, OPS, VerbosityLevel } from 'pdfjs-dist/legacy/build/pdf.mjs';
import type { Picture } from '../core/find/pixels/index.ts';
import type { PageInk } from '../core/find/types.ts';
import { greyPage } from './grey.ts';
import { inkOf, Outlines } from './ink/index.ts';

export interface InkFile {
  readonly pages: number;
  /** What page `index` (from 0) paints. */
  ink(index: number): Promise<PageInk>;
  /** Page `index` (from 0) as grey pixels, so many to the inch. Needs the canvas that pdf.js brings for Node. */
  grey(index: number, dpi?: number): Promise<Picture>;
  destroy(): Promise<void>;
}

const packed = (folder: string) => {
  const pdfjs = dirname(createRequire(import.meta.url).resolve('pdfjs-dist/package.json'));
  return `${pathToFileURL(join(pdfjs, folder)).href}/`;
};

/** Opens a PDF to read what its pages paint. Throws pdf.js's own errors. */
export async function openInk(data: Uint8Array): Promise<InkFile> {
  const task = getDocument({
    data: data.slice(),
    cMapUrl: packed('cmaps'),
    cMapPacked: true,
    standardFontDataUrl: packed('standard_fonts'),
    wasmUrl: packed('wasm'),
    isEvalSupported: false,
    enableXfa: false,
    disableFontFace: true,
    fontExtraProperties: true,
    verbosity: VerbosityLevel.ERRORS,
  });
  const document = await task.promise;
  const outlines = new Outlines();
  return {
    pages: document.numPages,
    async ink(index) {
      const page = await document.getPage(index + 1);
      try {
        return await inkOf(page, OPS, outlines);
      } finally {
        page.cleanup();
      }
    },
    grey: (index, dpi) => greyPage(document, index, dpi),
    destroy: () => task.destroy(),
  };
}
