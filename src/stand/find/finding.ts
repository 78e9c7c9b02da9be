import { withTurn } from '../../core/chart/turn.ts';
import type { Marks, Turn } from '../../core/chart/types.ts';
import { titleOf } from '../../core/find/chart/index.ts';
import { proposalFrom } from '../../core/find/proposal.ts';
import type { FoundPage } from '../../core/find/types.ts';
import type { FindReply, FindRequest } from './messages.ts';

/** A page that takes longer is left without bars, ms: a pathological one must not keep the others waiting. */
const PAGE_LIMIT = 20_000;

/** A file of more pages is a book of many tunes: the first of them is found, and none is longer than this. */
export const BOOK = 8;

/** The page ends with a final bar line. */
const endsTune = (page: FoundPage | null) => page?.systems.at(-1)?.bars.at(-1)?.right === 'final';

export interface FindOptions {
  readonly signal: AbortSignal;
  /** The first page looked at; later than 0, one tune is looked for, up to its final bar line. */
  readonly from?: number;
  /** What opens a locked file. */
  readonly password: string | null;
  /** How far the pages are turned. */
  readonly turn: Turn;
  /** How far it is. */
  readonly onProgress?: (done: number, pages: number) => void;
}

/**
 * Finds bars page by page in a worker of its own, which ends with it. A page that cannot be read, or takes too
 * long, is left out. Resolves with what was found until then when the signal is aborted.
 */
async function findPages(
  bytes: Blob,
  { signal, password, turn, from = 0, onProgress }: FindOptions,
): Promise<FoundPage[]> {
  const found: FoundPage[] = [];
  let next = from;
  let pages: number | null = null;
  // Each turn is one worker's life: a page that hangs ends it, and the next one begins after that page.
  const isBook = () => from > 0 || pages! > BOOK;
  const isOver = () => pages !== null && next >= (isBook() ? Math.min(pages, from + BOOK) : pages);
  while (!signal.aborted && !isOver()) {
    const worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' });
    try {
      worker.postMessage({ bytes, password, turn, from: next } satisfies FindRequest);
      for (;;) {
        const reply = await replyOf(worker, signal);
        if (reply === 'late') break;
        if (reply === null || reply.type === 'failed') return found;
        if (reply.type === 'opened') pages = reply.pages;
        else {
          if (reply.found) found.push(reply.found);
          next = reply.index + 1;
          onProgress?.(next, pages!);
          if (isOver() || (isBook() && endsTune(reply.found))) return found;
        }
      }
      next++;
    } finally {
      worker.terminate();
    }
  }
  return found;
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
    worker.onmessage = ({ data }: MessageEvent<FindReply>) => done(data);
    worker.onerror = () => done(null);
  });
}

/** A tune as its pages tell it. */
export interface FoundTune {
  readonly marks: Marks;
  /** As printed over the first line; null when none could be read. */
  readonly title: string | null;
}

/** A title that is read with less is not taken for the tune's name. */
const TITLE_SURE = 0.8;

/** The bars of a file as marks; null when there are none, or it was stopped before there were any. */
export async function findTune(bytes: Blob, options: FindOptions): Promise<FoundTune | null> {
  const pages = await findPages(bytes, options);
  const marks = withTurn(
    proposalFrom(pages, () => crypto.randomUUID()),
    options.turn,
  );
  if (marks.systems.length === 0) return null;
  const title = titleOf(pages);
  return { marks, title: title && title.sure >= TITLE_SURE ? title.text : null };
}
