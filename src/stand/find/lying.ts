/** A file on whose pages no music is found as they lie may lie on its side: it is looked at turned. */
import type { Turn } from '../../core/chart/types.ts';
import { SIDEWAYS, uprightness } from '../../core/find/lying.ts';
import type { FoundPage } from '../../core/find/types.ts';
import { NoFinder, openFinder } from './finder.ts';
import type { FileToFind } from './messages.ts';

/** So many pages are looked at: a cover and a foreword may come first, and a file without music must not take long. */
const LOOKED_AT = 3;

async function look(file: FileToFind, from: number, signal: AbortSignal): Promise<FoundPage[]> {
  const finder = await openFinder(file, signal);
  const found: FoundPage[] = [];
  try {
    for (let index = from; index < Math.min(finder.pages, from + LOOKED_AT) && !signal.aborted; index++) {
      const page = await finder.find(index);
      if (page) found.push(page);
    }
  } finally {
    finder.end();
  }
  return found;
}

/**
 * How far the pages are to be turned for their music to stand upright; null where there is none either way, or it was
 * stopped. `from`: the first page looked at, from 0.
 */
export async function lyingOf(file: FileToFind, from: number, signal: AbortSignal): Promise<Turn | null> {
  let best: { readonly turn: Turn; readonly score: number } | null = null;
  try {
    for (const turn of SIDEWAYS) {
      const score = uprightness(await look({ ...file, turn }, from, signal));
      // Staves are found upside down too: without music the one way there is none the other.
      if (score === null || signal.aborted) return null;
      if (best === null || score > best.score) best = { turn, score };
    }
  } catch (error) {
    if (!(error instanceof NoFinder)) throw error;
    return null;
  }
  return best?.turn ?? null;
}
