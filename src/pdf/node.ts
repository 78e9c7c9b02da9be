/** Opens PDFs in Node, for the commands: pdf.js's build for older engines, its worker in this thread. */
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { workerHere, type WorkerCode } from './here.ts';
import { forFinding, readerOf, type PageReader } from './pages.ts';

export interface InkFile extends PageReader {
  destroy(): Promise<void>;
}

const packed = (folder: string) => {
  const pdfjs = dirname(createRequire(import.meta.url).resolve('pdfjs-dist/package.json'));
  return `${pathToFileURL(join(pdfjs, folder)).href}/`;
};

/** Where pdf.js finds what its package brings along. */
export const packedInNode = () => ({
  cMapUrl: packed('cmaps'),
  cMapPacked: true,
  standardFontDataUrl: packed('standard_fonts'),
  wasmUrl: packed('wasm'),
});

// That build puts an `Array.prototype.push` of its own in the place of Node 20's, which then takes several times as long
// everywhere (core-js, for arrays whose length cannot be written). Node's own is kept here and put back.
const { push } = Array.prototype;

/** Opens a PDF as the finder does; with the operator numbers of that build. Throws pdf.js's own errors. */
export async function openForFinding(data: Uint8Array) {
  const pdfjs = await import('pdfjs-dist/legacy/build/pdf.mjs');
  // @ts-expect-error -- it has no types
  const code = (await import('pdfjs-dist/legacy/build/pdf.worker.mjs')) as WorkerCode;
  Array.prototype.push = push;
  const worker = workerHere(pdfjs, code);
  const task = pdfjs.getDocument({
    data: data.slice(),
    worker,
    ...packedInNode(),
    isEvalSupported: false,
    enableXfa: false,
    ...forFinding,
    verbosity: pdfjs.VerbosityLevel.ERRORS,
  });
  const destroy = async () => {
    await task.destroy();
    worker.destroy();
  };
  try {
    return { document: await task.promise, ops: pdfjs.OPS, destroy };
  } catch (error) {
    await destroy();
    throw error;
  }
}

/** Opens a PDF to read what its pages paint. Throws pdf.js's own errors. */
export async function openInk(data: Uint8Array): Promise<InkFile> {
  const { document, ops, destroy } = await openForFinding(data);
  return { ...readerOf(document, ops), destroy };
}
