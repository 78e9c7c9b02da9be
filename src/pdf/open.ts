import { getDocument, PasswordResponses, PDFWorker, type PDFDocumentProxy } from 'pdfjs-dist';
import workerUrl from 'pdfjs-dist/build/pdf.worker.min.mjs?url';
import { BrokenPdf, EmptyPdf, NeedsPassword, NotAPdf, TooSlow } from './errors.ts';
import { packedOptions } from './packed.ts';
import type { Turn } from '../core/chart/types.ts';
import { patience } from './patience.ts';
import { turnDocument } from './turn.ts';

/** Width and height of a page in points: crop box × UserUnit, after the page's own /Rotate. */
export interface PageSize {
  readonly width: number;
  readonly height: number;
}

export interface PdfFile {
  /** pdf.js's own handle, for this folder only. */
  readonly document: PDFDocumentProxy;
  /** Until `sized`, pages behind the first few are taken to be as large as the first. */
  readonly pages: readonly PageSize[];
  /** How many of them have been read. */
  readonly known: number;
  /** Reads the other sizes into `pages`; a file of many pages has its first one drawn before. Gives `known`. */
  sized(): Promise<number>;
  /** The title that the file says it has; null when it says none. */
  readonly title: string | null;
  /** What opened it; null for a file that is not locked. */
  readonly password: string | null;
  /** Frees the worker and everything drawn from this file. */
  destroy(): Promise<void>;
}

export interface OpenOptions {
  readonly signal?: AbortSignal;
  /** Share of the file read so far, 0–1. */
  readonly onProgress?: (share: number) => void;
  /** How far the pages are turned after their own rotation; asked once the bytes have come. */
  readonly turn?: () => Turn;
  /**
   * Asks for the password of a locked file; `wrong`: the one before was not it. When it rejects, the file stays
   * closed.
   */
  readonly askPassword?: (wrong: boolean) => Promise<string>;
}

/** A file in which nothing stirs for so long is given up, ms. Time to think of a password does not count. */
const PATIENCE = 30_000;

/** How long a worker may take to end by itself, ms. */
const LAST_WORDS = 500;

/** A reader takes a file whose header stands within its first 1,024 bytes (PDF 1.7 reference, appendix H). */
const HEADER_WITHIN = 1024;

/**
 * Opens a PDF with a worker of its own, which starts at once, while bytes that are only promised are on their
 * way. The given bytes stay the caller's.
 * @throws the promise's reason; NotAPdf, BrokenPdf, EmptyPdf, NeedsPassword, TooSlow; the signal's reason when
 * aborted.
 */
export async function openPdf(
  data: Blob | Uint8Array | Promise<Blob | Uint8Array>,
  options: OpenOptions = {},
): Promise<PdfFile> {
  const { signal, onProgress, askPassword } = options;
  signal?.throwIfAborted();
  const worker = new Worker(workerUrl, { type: 'module' });
  const pdfWorker = PDFWorker.create({ port: worker });
  let task: ReturnType<typeof getDocument> | null = null;
  const destroy = async () => {
    signal?.removeEventListener('abort', stop);
    // A worker that hangs never says that it is done.
    await Promise.race([task?.destroy(), new Promise((resolve) => setTimeout(resolve, LAST_WORDS))]);
    pdfWorker.destroy();
    worker.terminate();
  };
  const stop = () => void destroy();
  signal?.addEventListener('abort', stop, { once: true });
  const bytes = await bytesOf(data).catch(async (error: unknown) => {
    await destroy();
    throw error;
  });
  const limit = patience(PATIENCE, signal);
  let password: string | null = null;
  try {
    signal?.throwIfAborted();
    checkHeader(bytes);
    limit.stir();
    task = getDocument({
      data: bytes,
      worker: pdfWorker,
      ...packedOptions(),
    });
    task.onProgress = ({ loaded, total }: { loaded: number; total: number }) => {
      limit.stir();
      onProgress?.(total > 0 ? Math.min(1, loaded / total) : 0);
    };
    if (askPassword)
      task.onPassword = (answer: (said: string | Error) => void, reason: number) => {
        limit.rest();
        askPassword(reason === PasswordResponses.INCORRECT_PASSWORD).then(
          (said) => {
            limit.stir();
            answer((password = said));
          },
          (error: unknown) => answer(error instanceof Error ? error : new Error(String(error))),
        );
      };
    const document = await Promise.race([task.promise, limit.over]);
    turnDocument(document, options.turn?.() ?? 0);
    if (document.numPages < 1) throw new EmptyPdf();
    const [pages, title] = await Promise.race([
      Promise.all([firstSizes(document), titleOf(document)]),
      limit.over,
    ]);
    signal?.throwIfAborted();
    const known = pages.length > FEW ? 1 : pages.length;
    const readAll = async () => {
      const read = await readSizes(document, Math.min(MOST, pages.length));
      for (const [index, size] of read.entries()) if (size) pages[index] = size;
      return read.length;
    };
    let reading = known < pages.length ? null : Promise.resolve(known);
    const sized = () => (reading ??= readAll());
    return { document, pages, known, sized, title, password, destroy };
  } catch (error) {
    await destroy();
    signal?.throwIfAborted();
    throw named(error);
  } finally {
    limit.rest();
  }
}

async function bytesOf(data: Blob | Uint8Array | Promise<Blob | Uint8Array>): Promise<Uint8Array> {
  const given = await data;
  return given instanceof Blob ? new Uint8Array(await given.arrayBuffer()) : given.slice();
}

function checkHeader(bytes: Uint8Array): void {
  if (bytes.length === 0) throw new EmptyPdf();
  const head = String.fromCharCode(...bytes.subarray(0, HEADER_WITHIN));
  if (!head.includes('%PDF-')) throw new NotAPdf();
}

/** A file of more pages shows its first page before the sizes of the others are read. */
const FEW = 8;
/** pdf.js walks the page tree anew for each page: behind so many, all pages are taken to be as large as the first. */
const MOST = 2000;

async function sizeOf(document: PDFDocumentProxy, index: number): Promise<PageSize | null> {
  try {
    const { width, height } = (await document.getPage(index + 1)).getViewport({ scale: 1 });
    return { width, height };
  } catch {
    return null;
  }
}

/** A page that cannot be read gets the size of the first that can: its neighbours stay usable. */
async function readSizes(document: PDFDocumentProxy, count: number): Promise<(PageSize | null)[]> {
  return Promise.all(Array.from({ length: count }, (_, index) => sizeOf(document, index)));
}

/** The pages as far as they are known at first: all of them where they are few. */
async function firstSizes(document: PDFDocumentProxy): Promise<PageSize[]> {
  const { numPages } = document;
  const read = await readSizes(document, numPages > FEW ? 1 : numPages);
  let some = read.find((size) => size !== null);
  for (let index = read.length; !some && index < numPages; index++)
    some = (await sizeOf(document, index)) ?? undefined;
  if (!some) throw new BrokenPdf('no page can be read');
  return Array.from({ length: numPages }, (_, index) => read[index] ?? some);
}

async function titleOf(document: PDFDocumentProxy): Promise<string | null> {
  try {
    const { info } = await document.getMetadata();
    const title = (info as { Title?: unknown }).Title;
    return typeof title === 'string' && title.trim() !== '' ? title.trim() : null;
  } catch {
    return null;
  }
}

function named(error: unknown): Error {
  for (const own of [NotAPdf, EmptyPdf, BrokenPdf, TooSlow]) if (error instanceof own) return error;
  // pdf.js keeps the class of this one to itself, but names it.
  const { name, code, message } = error as { name?: string; code?: number; message?: string };
  if (name === 'PasswordException') return new NeedsPassword(code === PasswordResponses.INCORRECT_PASSWORD);
  return new BrokenPdf(message ?? String(error), { cause: error });
}
