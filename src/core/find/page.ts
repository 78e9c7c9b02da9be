import type { PageInk } from './types.ts';
import { isDoubtful, surerOf } from './both.ts';
import { findInInk, type Names } from './engraved/index.ts';
import { findPixels, type Picture } from './pixels/index.ts';
import type { FoundPage } from './types.ts';

/** A file's pages as the finder reads them; pages from 0. */
export interface PageSource {
  ink(index: number): Promise<PageInk>;
  grey(index: number): Promise<Picture>;
}

/**
 * What is found on a page: by what it paints, and where that has no staff, by its pixels, for it may hold a
 * picture of music; where what it paints leaves doubt, both ways are asked. `names` is one for all pages of a file. Throws what the source throws.
 */
export async function findOnPage(source: PageSource, index: number, names: Names): Promise<FoundPage> {
  const ink = await source.ink(index);
  const engraved = findInInk(ink, index, names);
  if (engraved.systems.length > 0 && !isDoubtful(engraved, ink)) return engraved;
  const seen = findPixels(await source.grey(index), index, ink);
  return engraved.systems.length > 0 ? surerOf(engraved, seen) : seen;
}
