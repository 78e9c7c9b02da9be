/** Opens PDFs in Node, for the commands: pdf.js's build for older engines, its worker in this thread. */
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { forFinding, readerOf, type PageReader } from './pages.ts';

export interface InkFile extends PageReader {
  destroy(): Promise<void>;
}

const packed = (folder: string) => {
  const pdfjs = dirname(createRequire(import.meta.url).resolve('pdfjs-dist/package.json'));
  return `${pathToFileURL(join(pdfjs, folder)).href}/`;
};

// That build puts an `Array.prototype.push` of its own in the place of Node 20's, which then takes several times as long
// everywhere (core-js, for arrays whose length cannot be written). Node's own is kept here and put back.
const { push } = Array.prototype;

/** Opens a PDF as the finder does; with the operator numbers of that build. Throws pdf.js's own errors. */
export async function openForFinding(data: Uint8Array) {
  const { getDocument, OPS, VerbosityLevel } = await import('pdfjs-dist/legacy/build/pdf.mjs');
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
  try {
    return { document: await task.promise, ops: OPS, destroy: () => task.destroy() };
  } finally {
    // Its worker is the same build, loaded by the first opening.
    Array.prototype.push = push;
  }
}

/** Opens a PDF to read what its pages paint. Throws pdf.js's own errors. */
export async function openInk(data: Uint8Array): Promise<InkFile> {
  const { document, ops, destroy } = await openForFinding(data);
  return { ...readerOf(document, ops), destroy };
}
