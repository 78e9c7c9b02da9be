/**
 * Reads pages in a worker of the browser's: what they paint, and their pixels. It opens the file for itself,
 * so that neither reading nor drawing ever holds up the page that the player looks at.
 */
import { getDocument, OPS, PDFWorker, VerbosityLevel } from 'pdfjs-dist';
import workerUrl from 'pdfjs-dist/build/pdf.worker.min.mjs?url';
import { NOT_TURNED } from '../core/chart/turn.ts';
import type { Turn } from '../core/chart/types.ts';
import { packedOptions } from './packed.ts';
import { workerHere, type WorkerCode } from './here.ts';
import { forFinding, readerOf, type PageReader } from './pages.ts';
import { turnDocument } from './turn.ts';

export interface TurningReader extends PageReader {
  /** From now on page `index` (from 0) is read turned so far. */
  turn(index: number, turn: Turn): void;
}

/** A worker has no document to make canvases in. */
class Canvases {
  create(width: number, height: number) {
    const canvas = new OffscreenCanvas(width, height);
    return { canvas, context: canvas.getContext('2d', { willReadFrequently: true }) };
  }
  reset({ canvas }: { canvas: OffscreenCanvas }, width: number, height: number) {
    canvas.width = width;
    canvas.height = height;
  }
  destroy(made: { canvas: OffscreenCanvas | null; context: unknown }) {
    made.canvas = null;
    made.context = null;
  }
}

/** Nor can it hold SVG filters: what needs one is drawn without. */
class NoFilters {
  private none = () => 'none';
  addFilter = this.none;
  addHCMFilter = this.none;
  addAlphaFilter = this.none;
  addLuminosityFilter = this.none;
  addHighlightHCMFilter = this.none;
  destroy() {}
}

let code: Promise<WorkerCode> | null = null;

/**
 * Loads pdf.js's worker into this one: Firefox now and then never comes back from making a worker in a worker. For
 * `readPages`, which does it by itself, but later.
 */
export const loadCode = (): Promise<WorkerCode> =>
  (code ??= import(/* @vite-ignore */ workerUrl) as Promise<WorkerCode>);

/** Opens a PDF in this worker. Throws pdf.js's own errors. It is freed with the worker. */
export async function readPages(bytes: Blob, password: string | null = null): Promise<TurningReader> {
  const code = await loadCode();
  const options = {
    ...(password === null ? {} : { password }),
    worker: workerHere({ PDFWorker }, code),
    data: new Uint8Array(await bytes.arrayBuffer()),
    verbosity: VerbosityLevel.ERRORS,
    ...packedOptions(),
    // Left to itself, pdf.js would ask the document for its address.
    useWorkerFetch: true,
    // Nor has a worker's canvas fonts of the file's.
    ...forFinding,
    CanvasFactory: Canvases,
    FilterFactory: NoFilters,
  };
  const document = await getDocument(options).promise;
  const turn = turnDocument(document, NOT_TURNED);
  return { ...readerOf(document, OPS), turn };
}
