import { evenLight } from '../../core/drill/evened.ts';
import { clearFragments, inkIn, type Cutting } from '../../core/drill/fragments.ts';
import { WORD_LOOK, wordsAcross, type Word } from '../../core/drill/words.ts';
import { median } from '../../core/median.ts';
import { foreignIn } from '../../core/drill/foreign.ts';
import type { PieceStaves } from '../../core/drill/setting.ts';
import type { Levels } from '../../pdf/levels.ts';

/** What stands beyond a bar line or before a staff, a bar number, reaches so far into a cut at most, in staff heights. */
const SIDE = 0.15;
/** Px beside the ink of a letter that are its soft edge. */
const SOFT = 2;

/**
 * Evens the light of a cut from a scan, and clears what stands at its edges of other things.
 * @param cutting px of the canvas, as are all lengths here; without `side`, which is told from the staff
 * @param staff height of a staff
 */
export function tidy(
  canvas: HTMLCanvasElement,
  cutting: Omit<Cutting, 'side'>,
  staff: number,
  levels: Levels,
): void {
  const { scan } = levels;
  const context = canvas.getContext('2d');
  if (!context) return;
  const { width, height } = canvas;
  const picture = context.getImageData(0, 0, width, height);
  if (scan) evenLight(picture.data, width, height, staff, levels);
  clearBeyond(picture, cutting, staff, levels);
  context.putImageData(picture, 0, 0);
}

function clearBeyond(
  { data, width, height }: ImageData,
  cutting: Omit<Cutting, 'side'>,
  staff: number,
  { scan, paper, ink }: Levels,
): void {
  const whole = { ...cutting, band: Math.round(cutting.band), side: Math.round(SIDE * staff) };
  clearFragments(data, width, height, whole, scan ? { paper, ink } : null);
}

/** A cut as it is shown. */
export interface CutPicture {
  readonly canvas: HTMLCanvasElement;
  /** Of words that its edges run through what stands beside it; clear but for them. Device px from its left edge. */
  readonly beside: readonly { readonly left: number; readonly canvas: HTMLCanvasElement }[];
}

/** How far a cut is looked at around and beside it, px; the staves' top and bottom line in it. */
export interface Margins {
  readonly around: number;
  readonly staves: PieceStaves;
}

/** So much of the page beside a cut is looked at for its words, px. */
export const asideOf = (staff: number): number => Math.round(WORD_LOOK * staff);

/**
 * Tidies a cut whose sides may run through words: one that is mostly its own stays whole, and goes on beside it; of
 * one that is mostly its neighbour's nothing is left.
 * @param wide the cut with `around` px of the page over and under it, and `asideOf` px at its sides
 */
export function tidyCut(
  wide: HTMLCanvasElement,
  band: number,
  { around, staves }: Margins,
  staff: number,
  levels: Levels,
): CutPicture {
  const aside = asideOf(staff);
  const { width, height } = wide;
  const context = wide.getContext('2d');
  const canvas = document.createElement('canvas');
  [canvas.width, canvas.height] = [width - 2 * aside, height - 2 * around];
  if (!context) return { canvas, beside: [] };
  const picture = context.getImageData(0, 0, width, height);
  const { scan, paper, ink } = levels;
  if (scan) evenLight(picture.data, width, height, staff, levels);
  const isInk = inkIn(picture.data, scan ? { paper, ink } : null);
  const softly = (places: readonly number[]) => softened(places, width, height);
  let bare: number[] | null = null;
  const clear = (places: readonly number[]) => {
    if (places.length === 0) return;
    bare ??= paperOf(picture.data, isInk, scan);
    for (const at of softly(places)) picture.data.set(bare, 4 * at);
  };
  clear(foreignIn(isInk, width, height, around + staves.ownFrom, around + staves.ownTo));
  const words = wordsAcross(isInk, width, {
    left: aside,
    right: width - aside,
    upper: around,
    lower: height - around,
    top: Math.round(around + staves.top),
    bottom: Math.round(around + staves.bottom),
    staff,
  });
  const whole = picture.data.slice();
  clear(words.filter(({ isOurs }) => !isOurs).flatMap(({ inside }) => inside));
  context.putImageData(picture, 0, 0);

  const left = aside - around;
  const near = context.getImageData(left, 0, width - 2 * left, height);
  clearBeyond(near, { band, around }, staff, levels);
  // A thin letter at the edge passes for what a cut has left of something else.
  const ours = words.filter(({ isOurs }) => isOurs);
  for (const at of softly(ours.flatMap(({ inside }) => inside))) {
    const [x, y] = [(at % width) - left, Math.floor(at / width)];
    near.data.set(whole.subarray(4 * at, 4 * at + 4), 4 * (y * near.width + x));
  }
  context.putImageData(near, left, 0);
  canvas.getContext('2d')?.drawImage(wide, -aside, -around);
  return { canvas, beside: besideOf(whole, ours, { width, height, aside, around }) };
}

/** Px of some ink and of its soft edge. */
function softened(places: readonly number[], width: number, height: number): number[] {
  const all = new Set<number>();
  for (const at of places) {
    const [x, y] = [at % width, Math.floor(at / width)];
    for (let ny = Math.max(0, y - SOFT); ny <= Math.min(height - 1, y + SOFT); ny++)
      for (let nx = Math.max(0, x - SOFT); nx <= Math.min(width - 1, x + SOFT); nx++)
        all.add(ny * width + nx);
  }
  return [...all];
}

/** So many px of a scan tell its paper. */
const TELLING = 10_000;

/** The paper's colour, RGBA. */
function paperOf(pixels: Uint8ClampedArray, isInk: (at: number) => boolean, scan: boolean): number[] {
  if (!scan) return [255, 255, 255, 255];
  const step = Math.max(1, Math.floor(pixels.length / 4 / TELLING));
  const bare = Array.from({ length: Math.floor(pixels.length / 4 / step) }, (_, i) => i * step).filter(
    (at) => !isInk(at),
  );
  return [0, 1, 2, 3].map((channel) => median(bare.map((at) => pixels[4 * at + channel]!)));
}

interface Wide {
  readonly width: number;
  readonly height: number;
  readonly aside: number;
  readonly around: number;
}

function besideOf(pixels: Uint8ClampedArray, ours: readonly Word[], wide: Wide): CutPicture['beside'] {
  const { width, height, aside, around } = wide;
  const places = softened(
    ours.flatMap(({ outside }) => outside),
    width,
    height,
  );
  return [
    { from: 0, left: -aside },
    { from: width - aside, left: width - 2 * aside },
  ].flatMap(({ from, left }) => {
    const here = places.filter((at) => at % width >= from && at % width < from + aside);
    if (here.length === 0) return [];
    const canvas = document.createElement('canvas');
    [canvas.width, canvas.height] = [aside, height - 2 * around];
    const context = canvas.getContext('2d');
    const picture = context?.createImageData(canvas.width, canvas.height);
    if (!context || !picture) return [];
    for (const at of here) {
      const y = Math.floor(at / width) - around;
      if (y < 0 || y >= canvas.height) continue;
      picture.data.set(pixels.subarray(4 * at, 4 * at + 4), 4 * (y * aside + (at % width) - from));
    }
    context.putImageData(picture, 0, 0);
    return [{ left, canvas }];
  });
}
