import { held, kernels, lent } from '../kernels/kernels.ts';
import type { Picture } from './picture.ts';

/** Paper is looked at in squares of so many pixels: smaller than a shadow, larger than a note. */
const SQUARE = 32;
/** Share of a square's pixels that are darker than its paper. */
const PAPER = 0.7;
/** Below this grey there is no paper, only the dark around it. */
const DARKEST_PAPER = 40;
/** Share of all pixels that are as dark as full ink: one staff on a page has that much. */
const INK = 0.003;
/** Ink that takes less light than this from the paper is none. */
const FAINTEST = 0.12;

/** Levels of grey. */
const GREYS = 256;

/**
 * A page's ink and how much of it there is anywhere, in the memory of the kernels: it is there until another page's is
 * asked for.
 */
export interface Darkness {
  readonly width: number;
  readonly height: number;
  /** Where the ink stands, a byte a pixel, row by row: 0 paper – 255 full. */
  readonly ink: number;
  /** Where the most ink in each square of `TILE` pixels a side stands, a byte for each, row by row. */
  readonly tiles: number;
}

/** Half a square: within a tile the paper changes evenly. */
const TILE = SQUARE / 2;
const tilesAlong = (pixels: number) => Math.ceil(pixels / TILE);

/**
 * How much ink there is at every pixel, 0 paper – 255 full, whatever the light: grey is divided by the paper
 * around it, and the darkest ink of the page is full. Null where nothing is printed.
 */
export function darknessOf({ width, height, data }: Picture): Darkness | null {
  if (width < 2 * SQUARE || height < 2 * SQUARE) return null;
  const [across, down] = [Math.ceil(width / SQUARE), Math.ceil(height / SQUARE)];
  const inTiles = tilesAlong(width) * tilesAlong(height);
  const [squares, greys] = [4 * across * down, 4 * GREYS];
  // See `countsIn` of the kernels.
  const tables = 4 * greys;
  const [ink, tiles] = held(data.length, inTiles).at;
  const { at, bytes, words } = lent(data.length, squares, squares, 4 * across, tables);
  const [page, seen, paper, row, counts] = at;
  bytes.set(data, page);
  kernels().papers(page, width, height, PAPER, DARKEST_PAPER, counts, seen);
  // Dark squares have the paper of their neighbours; what changes from square to square does so evenly.
  kernels().around(seen, across, down, 1, paper);
  kernels().around(paper, across, down, 0, seen);
  // What each pixel has less than its paper, and how many have so much.
  bytes.fill(0, ink, tiles + inTiles);
  bytes.fill(0, counts, counts + greys);
  kernels().takenFrom(page, width, height, seen, row, ink, tiles, counts);
  let full = GREYS - 1;
  for (let above = 0; full > 0 && above < INK * data.length; full--) above += words[counts / 4 + full]!;
  if (full < FAINTEST * 255) return null;
  kernels().deepen(ink, width, height, tiles, full);
  return { width, height, ink, tiles };
}
