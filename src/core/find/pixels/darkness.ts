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

/** A page's ink, 0 paper – 255 full, and how much of it there is anywhere. */
export interface Darkness extends Picture {
  /** The most ink in each square of `TILE` pixels a side, row by row. */
  readonly tiles: Uint8Array;
}

/** Half a square: within a tile the paper changes evenly. */
const TILE = SQUARE / 2;
const tilesAlong = (pixels: number) => Math.ceil(pixels / TILE);

/** Nothing between two columns and two rows, all within the page, is darker than `most`; true only where that is sure. */
export function isBare(
  { width, height, tiles }: Darkness,
  x0: number,
  x1: number,
  y0: number,
  y1: number,
  most = 0,
): boolean {
  const across = tilesAlong(width);
  const first = (Math.max(0, x0) / TILE) | 0;
  const last = (Math.min(width - 1, x1) / TILE) | 0;
  const bottom = (Math.min(height - 1, y1) / TILE) | 0;
  for (let y = (Math.max(0, y0) / TILE) | 0; y <= bottom; y++)
    for (let x = first; x <= last; x++) if (tiles[y * across + x]! > most) return false;
  return true;
}

/**
 * How much ink there is at every pixel, 0 paper – 255 full, whatever the light: grey is divided by the paper
 * around it, and the darkest ink of the page is full. Null where nothing is printed.
 */
export function darknessOf(picture: Picture): Darkness | null {
  const { width, height } = picture;
  if (width < 2 * SQUARE || height < 2 * SQUARE) return null;
  const paper = paperOf(picture);
  const taken = new Uint8Array(width * height);
  const tiles = new Uint8Array(tilesAlong(width) * tilesAlong(height));
  const counts = takenFrom(picture, paper, taken, tiles);
  let full = 255;
  for (let above = 0; full > 0 && above < INK * taken.length; full--) above += counts[full]!;
  if (full < FAINTEST * 255) return null;
  const scale = new Uint8Array(256).map((_, value) => Math.min(255, Math.round((value * 255) / full)));
  const page = { width, height, data: taken, tiles };
  deepen(page, scale);
  return page;
}

/**
 * What each pixel has less than its paper, 0–255, into `taken`, and 1 into `tiles` where a tile has any such pixel.
 * Gives how many pixels have so much ink.
 */
function takenFrom(
  { width, height, data }: Picture,
  paper: Float32Array,
  taken: Uint8Array,
  tiles: Uint8Array,
): Uint32Array {
  const counts = new Uint32Array(256);
  const across = Math.ceil(width / SQUARE);
  const row = new Float32Array(across);
  for (let y = 0; y < height; y++) {
    blend(paper, across, Math.ceil(height / SQUARE), y, row);
    const firstTile = ((y / TILE) | 0) * tilesAlong(width);
    for (let x0 = 0; x0 < width; x0 += TILE) {
      // From the middle of one square to that of the next the paper changes evenly; at the sides it stays.
      const cell = Math.floor((x0 - SQUARE / 2) / SQUARE);
      const left = row[Math.max(0, cell)]!;
      const change = (row[Math.min(across - 1, cell + 1)]! - left) / SQUARE;
      const end = Math.min(width, x0 + TILE);
      let white = left + change * (x0 - cell * SQUARE - SQUARE / 2);
      const lightest = Math.max(white, white + change * TILE);
      const start = y * width;
      let darkest = 255;
      for (let i = start + x0; i < start + end; i++) if (data[i]! < darkest) darkest = data[i]!;
      // Most of a page is paper.
      if (darkest >= lightest) continue;
      tiles[firstTile + x0 / TILE] = 1;
      for (let i = start + x0; i < start + end; i++) {
        const value = Math.max(0, 255 - (255 * data[i]!) / white) | 0;
        taken[i] = value;
        counts[value]!++;
        white += change;
      }
    }
  }
  return counts;
}

/** Replaces ink by that of `scale`, and what says that there is any in a tile by the most of it. */
function deepen({ width, height, data, tiles }: Darkness, scale: Uint8Array): void {
  for (let y0 = 0, tile = 0; y0 < height; y0 += TILE)
    for (let x0 = 0; x0 < width; x0 += TILE, tile++) {
      if (tiles[tile] === 0) continue;
      let most = 0;
      for (let y = y0; y < Math.min(height, y0 + TILE); y++)
        for (let i = y * width + x0, end = y * width + Math.min(width, x0 + TILE); i < end; i++) {
          const value = scale[data[i]!]!;
          data[i] = value;
          if (value > most) most = value;
        }
      tiles[tile] = most;
    }
}

/** Grey of the paper in every square, dark squares taken from their neighbours. */
function paperOf({ width, height, data }: Picture): Float32Array {
  const [across, down] = [Math.ceil(width / SQUARE), Math.ceil(height / SQUARE)];
  const seen = new Float32Array(across * down);
  const counts = new Uint16Array(256);
  for (let j = 0; j < down; j++)
    for (let i = 0; i < across; i++) {
      counts.fill(0);
      const right = Math.min(width, (i + 1) * SQUARE);
      const bottom = Math.min(height, (j + 1) * SQUARE);
      let total = 0;
      for (let y = j * SQUARE; y < bottom; y += 2)
        for (let at = y * width + i * SQUARE, end = y * width + right; at < end; at++, total++)
          counts[data[at]!]!++;
      // Looked for from the light end, where paper is: the darkest grey that, with all below it, is enough.
      let grey = 255;
      for (let below = total - counts[255]!; grey > 0 && below >= PAPER * total; below -= counts[grey]!)
        grey--;
      seen[j * across + i] = Math.max(DARKEST_PAPER, grey);
    }
  const lightest = around(seen, across, down, (most, value) => Math.max(most, value));
  const sums = around(lightest, across, down, (sum, value) => sum + value);
  const squares = around(new Float32Array(across * down).fill(1), across, down, (sum, value) => sum + value);
  return Float32Array.from(sums, (sum, k) => sum / squares[k]!);
}

/** Every square joined with those around it, row by row. */
function around(
  from: ArrayLike<number>,
  across: number,
  down: number,
  join: (before: number, value: number) => number,
): Float64Array {
  return Float64Array.from(from, (_, k) => {
    const i = k % across;
    const j = (k / across) | 0;
    let joined = 0;
    for (let y = Math.max(0, j - 1); y <= Math.min(down - 1, j + 1); y++)
      for (let x = Math.max(0, i - 1); x <= Math.min(across - 1, i + 1); x++)
        joined = join(joined, from[y * across + x]!);
    return joined;
  });
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
