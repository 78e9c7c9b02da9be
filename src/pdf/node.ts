/** Opens PDFs in Node, for the commands: pdf.js's build for older engines, its worker in this thread. */
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { getDocument, OPS, VerbosityLevel } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { forFinding, readerOf, type PageReader } from './pages.ts';

export interface InkFile extends PageReader {
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
    ...forFinding,
    verbosity: VerbosityLevel.ERRORS,
  });
  return { ...readerOf(await task.promise, OPS), destroy: () => task.destroy() };
}
