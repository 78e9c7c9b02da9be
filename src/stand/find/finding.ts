import { turnOn, turnsWith, withTurns } from '../../core/chart/turn.ts';
import type { Marks, Turns } from '../../core/chart/types.ts';
import { titleOf } from '../../core/find/chart/index.ts';
import type { FoundPage } from '../../core/find/types.ts';
import { proposalOn } from './comparing.ts';
import { NoFinder, openFinder, type Finder } from './finder.ts';
import { createLooker, type Looked, type Looker } from './lying.ts';
import type { FileToFind } from './messages.ts';

/** A file of more pages is a book of many tunes: the first of them is found, and none is longer than this. */
export const BOOK = 8;

/** The page ends with a final bar line. */
const endsTune = (page: FoundPage | null) => page?.systems.at(-1)?.bars.at(-1)?.right === 'final';

export interface FindOptions {
  readonly signal: AbortSignal;
  /** The first page looked at; later than 0, one tune is looked for, up to its final bar line. */
  readonly from?: number;
  /** These pages alone are looked at. */
  readonly only?: readonly number[];
  /** A page that stays as the player has turned it. */
  readonly stays?: number;
  /** How far it is. */
  readonly onProgress?: (done: number, pages: number) => void;
  /** What was found on a page before; null when nothing was. Left out, every page is read anew. */
  readonly known?: (index: number) => Promise<Looked | null>;
  /** Every page that was read. */
  readonly onPage?: (looked: Looked) => void;
}

/** The pages that are looked at in a file of so many, and whether it is a book, of which one tune is wanted. */
function pagesToLookAt(pages: number, { from = 0, only }: FindOptions): { list: number[]; isBook: boolean } {
  if (only) return { list: only.filter((index) => index < pages), isBook: false };
  const isBook = from > 0 || pages > BOOK;
  const last = isBook ? Math.min(pages, from + BOOK) : pages;
  return { list: Array.from({ length: Math.max(0, last - from) }, (_, i) => from + i), isBook };
}

/**
 * Finds bars page by page, each turned as it has to be. A page that cannot be read, or takes too long, is left out.
 * Resolves with what was found until then when the signal is aborted.
 */
async function findPages(file: FileToFind, options: FindOptions): Promise<Looked[]> {
  const { signal, stays, onProgress, known, onPage } = options;
  const all: Looked[] = [];
  const read = new Set<number>();
  let finder: Finder | null = null;
  let looker: Looker | null = null;
  try {
    finder = await openFinder(file, signal);
    const { pages } = finder;
    looker = createLooker(finder, file.turns, signal);
    const { list, isBook } = pagesToLookAt(pages, options);
    for (const index of list) {
      if (signal.aborted) break;
      const before = index === stays ? null : ((await known?.(index)) ?? null);
      const looked = before ?? (await looker.look(index, index === stays));
      if (!before) read.add(index);
      if (looked) all.push(looked);
      onProgress?.(index + 1, pages);
      if (isBook && endsTune(looked?.page ?? null)) break;
    }
  } catch (error) {
    if (!(error instanceof NoFinder)) throw error;
  } finally {
    finder?.end();
  }
  // Which way up is right, those that came later have told too.
  const settled = all.map((looked) => looker?.settled(looked) ?? looked);
  for (const looked of settled) if (read.has(looked.page.page)) onPage?.(looked);
  return settled;
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
export async function tuneFrom(pages: readonly FoundPage[], turns: Turns): Promise<FoundTune | null> {
  const marks = withTurns(await proposalOn(pages), turns);
  if (marks.systems.length === 0) return null;
  const title = titleOf(pages);
  return { marks, title: title && title.sure >= TITLE_SURE ? title.text : null, pages };
}

/** How pages lie, with those that have been turned. */
export const turnsAfter = (turns: Turns, looked: readonly Looked[]): Turns =>
  looked.reduce(
    (now, { page: { page }, turn }) => (turnOn(now, page) === turn ? now : turnsWith(now, page, turn)),
    turns,
  );

/** The bars of a file as marks; null when there are none, or it was stopped before there were any. */
export async function findTune(file: FileToFind, options: FindOptions): Promise<FoundTune | null> {
  const looked = await findPages(file, options);
  return tuneFrom(
    looked.map(({ page }) => page),
    turnsAfter(file.turns, looked),
  );
}
