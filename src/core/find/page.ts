import { isDoubtful, surerOf } from './both.ts';
import { findInInk, type Names } from './engraved/index.ts';
import { findPixels, type Picture } from './pixels/index.ts';
import { isLetter, isTable, type Ruled } from './tables.ts';
import type { FoundPage, FoundSystem, PageInk } from './types.ts';

/** A file's pages as the finder reads them; pages from 0. */
export interface PageSource {
  ink(index: number): Promise<PageInk>;
  grey(index: number): Promise<Picture>;
}

/**
 * What is found on a page: by what it paints, and where that has no staff, by its pixels, for it may hold a
 * picture of music; where what it paints leaves doubt, both ways are asked. `names` is one for all pages of a file.
 * Throws what the source throws.
 */
export async function findOnPage(source: PageSource, index: number, names: Names): Promise<FoundPage> {
  const ink = await source.ink(index);
  const engraved = findInInk(ink, index, names);
  if (engraved.systems.length > 0 && !isDoubtful(engraved, ink)) return engraved;
  const seen = withoutTables(findPixels(await source.grey(index), index, ink), ink);
  return engraved.systems.length > 0 ? surerOf(engraved, seen) : seen;
}

/** The rules of a table look like staves to whoever cannot read. */
function withoutTables(seen: FoundPage, ink: PageInk): FoundPage {
  const letters = ink.ink.filter(isLetter);
  const music = ink.ink.flatMap((one) =>
    one.kind === 'shape' || (one.kind === 'glyph' && !isLetter(one)) ? [one] : [],
  );
  const tables = seen.systems.filter((system) => isTable(ruledIn(system, ink), letters, music));
  const isText = tables.length > 0 && 2 * tables.length >= seen.systems.length;
  return isText ? { ...seen, systems: [], signs: [] } : seen;
}

const ruledIn = ({ staves }: FoundSystem, { width, height }: PageInk) =>
  staves.map(({ box: [x0, , x1], lines }): Ruled => ({
    x0: x0 * width,
    x1: x1 * width,
    lines: lines.map((y) => y * height),
  }));
