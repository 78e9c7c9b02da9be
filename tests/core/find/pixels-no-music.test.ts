import { expect, test } from 'vitest';
import { findPixels } from '../../../src/core/find/pixels/index.ts';
import { pageWithoutMusic } from '../../corpus/scans/no-music.ts';

/** One page of each kind, as drawn; the long run, with scans, is tests/corpus/scans/no-music.ts. */
const pages: [string, number][] = [
  ['text', 0],
  ['table', 1],
  ['ruled', 10],
  ['map', 3],
  ['plan', 4],
  ['photograph', 5],
  ['graph', 6],
  ['noise', 7],
];

test.each(pages)('a page of %s holds no bars', (kind, seed) => {
  const page = pageWithoutMusic(kind, seed, true);
  expect(findPixels(page, 0, page).systems).toEqual([]);
});
