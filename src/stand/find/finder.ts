import { ahead } from '../../core/ahead.ts';
import type { Turn } from '../../core/chart/types.ts';
import { pageFrom } from '../../core/find/sent.ts';
import type { FoundPage } from '../../core/find/types.ts';
import type { FileToFind, FindReply, FindRequest } from './messages.ts';

/** A page that takes longer is left without bars, ms: a pathological one must not keep the others waiting. */
const PAGE_LIMIT = 20_000;

/** The file cannot be read, or it was told to stop. */
export class NoFinder extends Error {
  override readonly name = 'NoFinder';
}

const workers = ahead(() => new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' }));

/** Starts the worker for the file that is opened next: it has pdf.js's code by the time that the file comes. */
export const findAhead = workers.prepare;

export interface Finder {
  /** Pages in the file. */
  readonly pages: number;
  /**
   * What is found on page `index` (from 0), turned so far; null when it cannot be read or takes too long. One page is
   * asked for at a time. Throws NoFinder.
   */
  find(index: number, turn: Turn): Promise<FoundPage | null>;
  end(): void;
}

/**
 * Opens a file in a worker of its own, off the thread that draws. A page that hangs costs the worker its life,
 * and the next page has a new one. Throws NoFinder when the file cannot be read.
 */
export async function openFinder({ bytes, password }: FileToFind, signal: AbortSignal): Promise<Finder> {
  let worker: Worker | null = null;
  const end = () => {
    worker?.terminate();
    worker = null;
  };
  const ask = async (request: FindRequest): Promise<FindReply | 'late'> => {
    const reply = replyOf(worker!, signal);
    worker!.postMessage(request);
    const got = await reply;
    if (got !== null && (got === 'late' || got.type !== 'failed')) return got;
    end();
    throw new NoFinder();
  };
  /** A worker with the file open; how many pages that has. */
  const opened = async (): Promise<number> => {
    if (signal.aborted) throw new NoFinder();
    worker = workers.take();
    const reply = await ask({ type: 'open', file: { bytes, password } });
    if (reply !== 'late' && reply.type === 'opened') return reply.pages;
    end();
    throw new NoFinder();
  };
  const pages = await opened();
  return {
    pages,
    async find(index, turn) {
      if (worker === null) await opened();
      const reply = await ask({ type: 'page', index, turn });
      if (reply !== 'late')
        return reply.type === 'page' && reply.found !== null ? pageFrom(reply.found) : null;
      end();
      return null;
    },
    end,
  };
}

/** The next answer; null when it was told to stop or could not be started. */
function replyOf(worker: Worker, signal: AbortSignal): Promise<FindReply | 'late' | null> {
  return new Promise((resolve) => {
    const done = (reply: FindReply | 'late' | null) => {
      clearTimeout(timer);
      signal.removeEventListener('abort', stop);
      worker.onmessage = worker.onerror = null;
      resolve(reply);
    };
    const stop = () => done(null);
    const timer = setTimeout(() => done('late'), PAGE_LIMIT);
    signal.addEventListener('abort', stop);
    // pdf.js's code says that it is ready, too, where it is loaded: that is no answer.
    worker.onmessage = ({ data }: MessageEvent<FindReply | { readonly type?: undefined }>) => {
      if (data.type !== undefined) done(data);
    };
    worker.onerror = () => done(null);
  });
}
