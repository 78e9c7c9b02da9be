import { kernels, lent } from '../kernels/kernels.ts';
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

/** A page's ink, 0 paper – 255 full, and how much of it there is anywhere. */
export interface Darkness extends Picture {
  /** The most ink in each square of `TILE` pixels a side, row by row. */
  readonly tiles: Uint8Array;
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
  const across = Math.ceil(width / SQUARE);
  const down = Math.ceil(height / SQUARE);
  const inTiles = tilesAlong(width) * tilesAlong(height);
  const { at, bytes, words, floats } = lent(data.length, data.length, inTiles, 4 * across, 4 * GREYS, GREYS);
  const [page, ink, tiles, row, counts, scale] = at as [number, number, number, number, number, number];
  bytes.set(data, page);
  const paper = paperOf(width, height, (x0, y0) => {
    const all = kernels().countsIn(page, width, height, x0, y0, counts);
    return { all, counts: words.subarray(counts / 4, counts / 4 + GREYS) };
  });
  // What each pixel has less than its paper, and how many have so much.
  bytes.fill(0, ink, tiles + inTiles);
  bytes.fill(0, counts, counts + 4 * GREYS);
  for (let y = 0; y < height; y++) {
    blend(paper, across, down, y, floats.subarray(row / 4, row / 4 + across));
    kernels().takenInRow(page, width, y, row, ink, tiles, counts);
  }
  let full = GREYS - 1;
  for (let above = 0; full > 0 && above < INK * data.length; full--) above += words[counts / 4 + full]!;
  if (full < FAINTEST * 255) return null;
  for (let value = 0; value < GREYS; value++)
    bytes[scale + value] = Math.min(255, Math.round((value * 255) / full));
  kernels().deepen(ink, width, height, tiles, scale);
  return {
    width,
    height,
    data: bytes.slice(ink, ink + data.length),
    tiles: bytes.slice(tiles, tiles + inTiles),
  };
}

/** How many pixels of a square have each grey, and how many that are in all; not all of a square need be looked at. */
type CountsAt = (x0: number, y0: number) => { readonly all: number; readonly counts: Int32Array };

/** Grey of the paper in every square, dark squares taken from their neighbours. */
function paperOf(width: number, height: number, countsAt: CountsAt): Float32Array {
  const [across, down] = [Math.ceil(width / SQUARE), Math.ceil(height / SQUARE)];
  const seen = new Float32Array(across * down);
  for (let j = 0, k = 0; j < down; j++)
    for (let i = 0; i < across; i++, k++) {
      const { all, counts } = countsAt(i * SQUARE, j * SQUARE);
      // Looked for from the light end, where paper is: the darkest grey that, with all below it, is enough.
      let grey = GREYS - 1;
      for (let below = all - counts[grey]!; grey > 0 && below >= PAPER * all; below -= counts[grey]!) grey--;
      seen[k] = Math.max(DARKEST_PAPER, grey);
    }
  const lightest = new Float32Array(seen.length);
  const paper = new Float32Array(seen.length);
  const isIn = (j: number, i: number) => j >= 0 && j < down && i >= 0 && i < across;
  for (const [from, to] of [
    [seen, lightest],
    [lightest, paper],
  ] as const)
    for (let j = 0, k = 0; j < down; j++)
      for (let i = 0; i < across; i++, k++) {
        let [most, sum, count] = [0, 0, 0];
        for (let y = j - 1; y <= j + 1; y++)
          for (let x = i - 1; x <= i + 1; x++) {
            if (!isIn(y, x)) continue;
            const value = from[y * across + x]!;
            if (value > most) most = value;
            sum += value;
            count++;
          }
        to[k] = from === seen ? most : sum / count;
      }
  return paper;
}

/** One row of the paper at pixel row `y`, between the middles of the squares. */
function blend(paper: Float32Array, across: number, down: number, y: number, row: Float32Array): void {
  const at = Math.min(down - 1, Math.max(0, (y - SQUARE / 2) / SQUARE));
  const j = Math.min(down - 2, at | 0);
  for (let i = 0; i < across; i++) {
    const upper = paper[j * across + i]!;
    row[i] = upper + (paper[(j + 1) * across + i]! - upper) * (at - j);
  }
}
