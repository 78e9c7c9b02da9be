/** One worker of pdf.js with one file in it. */
import { getDocument, PasswordResponses, PDFWorker, type PDFDocumentProxy } from 'pdfjs-dist';
import workerUrl from 'pdfjs-dist/build/pdf.worker.min.mjs?url';
import { ahead } from '../core/ahead.ts';
import { isPdf } from '../core/chart/naming.ts';
import { BrokenPdf, EmptyPdf, NeedsPassword, NotAPdf, TooSlow } from './errors.ts';
import { packedOptions } from './packed.ts';
import { patience } from './patience.ts';

export interface ConnectOptions {
  readonly signal?: AbortSignal;
  /** Share of the file read so far, 0–1. */
  readonly onProgress?: (share: number) => void;
  /**
   * Asks for the password of a locked file; `wrong`: the one before was not it. When it rejects, the file stays
   * closed.
   */
  readonly askPassword?: (wrong: boolean) => Promise<string>;
}

/** A file in which nothing stirs for so long is given up, ms. Time to think of a password does not count. */
export const PATIENCE = 30_000;

/** How long a worker may take to end by itself, ms. */
const LAST_WORDS = 500;

export interface Connection {
  readonly document: PDFDocumentProxy;
  /** What opened it; null for a file that is not locked. */
  readonly password: string | null;
  /** Ends the worker, whether it hangs or not. */
  close(): Promise<void>;
}

const workers = ahead(() => new Worker(workerUrl, { type: 'module' }));

/** Starts the worker of the file that is opened next: that takes longer than reading a book's first page. */
export const connectAhead = workers.prepare;

/** Opens a file in a worker of its own, which starts at once unless it was started ahead. Throws as `openPdf`. */
export async function connect(
  data: Blob | Uint8Array | Promise<Blob | Uint8Array>,
  { signal, onProgress, askPassword }: ConnectOptions,
): Promise<Connection> {
  signal?.throwIfAborted();
  const worker = workers.take();
  const pdfWorker = PDFWorker.create({ port: worker });
  let task: ReturnType<typeof getDocument> | null = null;
  const close = async () => {
    signal?.removeEventListener('abort', stop);
    // A worker that hangs never says that it is done.
    await Promise.race([task?.destroy(), new Promise((resolve) => setTimeout(resolve, LAST_WORDS))]);
    pdfWorker.destroy();
    worker.terminate();
  };
  const stop = () => void close();
  signal?.addEventListener('abort', stop, { once: true });
  const bytes = await bytesOf(data).catch(async (error: unknown) => {
    await close();
    throw error;
  });
  const limit = patience(PATIENCE, signal);
  let password: string | null = null;
  try {
    signal?.throwIfAborted();
    if (bytes.length === 0) throw new EmptyPdf();
    if (!isPdf(bytes)) throw new NotAPdf();
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
    signal?.throwIfAborted();
    return { document, password, close };
  } catch (error) {
    await close();
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

/** Any error as one of errors.ts. */
export function named(error: unknown): Error {
  for (const own of [NotAPdf, EmptyPdf, BrokenPdf, TooSlow]) if (error instanceof own) return error;
  // pdf.js keeps the class of this one to itself, but names it.
  const { name, code, message } = error as { name?: string; code?: number; message?: string };
  if (name === 'PasswordException') return new NeedsPassword(code === PasswordResponses.INCORRECT_PASSWORD);
  return new BrokenPdf(message ?? String(error), { cause: error });
}
