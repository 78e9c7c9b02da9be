import { withTurn } from '../../core/chart/turn.ts';
import type { Marks, Turn } from '../../core/chart/types.ts';
import { titleOf } from '../../core/find/chart/index.ts';
import { proposalFrom } from '../../core/find/proposal.ts';
import type { FoundPage } from '../../core/find/types.ts';
import { NoFinder, openFinder, type Finder } from './finder.ts';
import type { FileToFind } from './messages.ts';

/** A file of more pages is a book of many tunes: the first of them is found, and none is longer than this. */
export const BOOK = 8;

/** The page ends with a final bar line. */
const endsTune = (page: FoundPage | null) => page?.systems.at(-1)?.bars.at(-1)?.right === 'final';

export interface FindOptions {
  readonly signal: AbortSignal;
  /** The first page looked at; later than 0, one tune is looked for, up to its final bar line. */
  readonly from?: number;
  /** How far it is. */
  readonly onProgress?: (done: number, pages: number) => void;
  /** What was found on a page before; null when nothing was. Left out, every page is read anew. */
  readonly known?: (index: number) => Promise<FoundPage | null>;
  /** Every page that was read. */
  readonly onPage?: (page: FoundPage) => void;
}

/**
 * Finds bars page by page. A page that cannot be read, or takes too long, is left out. Resolves with what was
 * found until then when the signal is aborted.
 */
async function findPages(file: FileToFind, options: FindOptions): Promise<FoundPage[]> {
  const { signal, from = 0, onProgress, known, onPage } = options;
  const found: FoundPage[] = [];
  let finder: Finder | null = null;
  try {
    finder = await openFinder(file, signal);
    const { pages } = finder;
    const isBook = from > 0 || pages > BOOK;
    const last = isBook ? Math.min(pages, from + BOOK) : pages;
    for (let index = from; index < last && !signal.aborted; index++) {
      const before = (await known?.(index)) ?? null;
      const page = before ?? (await finder.find(index));
      if (page) found.push(page);
      if (page && !before) onPage?.(page);
      onProgress?.(index + 1, pages);
      if (isBook && endsTune(page)) break;
    }
  } catch (error) {
    if (!(error instanceof NoFinder)) throw error;
  } finally {
    finder?.end();
  }
  return found;
}

/** A tune as its pages tell it. */
export interface FoundTune {
  readonly marks: Marks;
  /** As printed over the first line; null when none could be read. */
  readonly title: string | null;
  readonly pages: readonly FoundPage[];
}

/** A title that is read with less is not taken for the tune's name. */
const TITLE_SURE = 0.8;

/** Pages, turned so far, as a tune; null when there is no bar on them. */
export function tuneFrom(pages: readonly FoundPage[], turn: Turn): FoundTune | null {
  const marks = withTurn(
    proposalFrom(pages, () => crypto.randomUUID()),
    turn,
  );
  if (marks.systems.length === 0) return null;
  const title = titleOf(pages);
  return { marks, title: title && title.sure >= TITLE_SURE ? title.text : null, pages };
}

/** The bars of a file as marks; null when there are none, or it was stopped before there were any. */
export const findTune = async (file: FileToFind, options: FindOptions): Promise<FoundTune | null> =>
  tuneFrom(await findPages(file, options), file.turn);
