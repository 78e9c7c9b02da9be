/** What stands in a straightened system, laid apart: each staff with what hangs together with it, and words above. */
import type { Straight } from '../pixels/straight.ts';
import { kernels, lent } from '../kernels/kernels.ts';
import { blobsOf, joined, maskOf, type Blob } from './blobs.ts';
import { cropped, FINE, FINER, type Grey } from './grey.ts';

/** Rows that are looked at above the first and below the last staff, in spaces. */
export const ABOVE = 8;
export const BELOW = 4.5;
/** A bar reaches so far above its staff, in spaces. */
export const REACH = 4.8;
/** Of 255, what is paler than this is paper. */
const PALE = 36;
/** What is taken off the rows of a staff line, 0–15. */
const FADE = [4, 10, 12, 10, 4];
/** Pixels with no more than this around them are grain, 0–15. */
const GRAIN = 2;
/** Darkness, 0–15, from which a pixel is ink when things are told apart. */
export const INK = 5;
/** Smaller things, in pixels, are specks and dots: they stay where they are. */
const SPECK = 5;
/** Letters this close are one word, in pixels; a word has at least this height and so many pixels. */
const WORD = 4;
const LOW = 5;
const FEW = 14;
/** What stands this close beside and over or under a word may be of it, in pixels. */
const BESIDE = 8;
const OVER = 2;
/** Things this close above each other may be notes on ledger lines, in pixels; a ledger line is this flat. */
const LEDGER = 5;
const FLAT = 3;
/** What begins this close below the staff may be a tie, in pixels. */
const HANGING = 12;
/** A frame is at least so wide and high, a bracket so wide, in spaces; so much of a side is ink. */
const FRAME = 2;
const BRACKET = 6;
const SIDES = 0.92;
const CORNERS = 0.95;
const FAINT = 3;
const THIN = 0.75;

export interface Word {
  /** Columns of the system. */
  readonly x0: number;
  readonly x1: number;
  /** Its foot, from the top line down, in pixels. */
  readonly foot: number;
  readonly picture: Grey;
}

export interface Staff {
  readonly picture: Grey;
  /** The same without grain, for telling things apart. */
  readonly soft: Grey;
  /** The same, `FINER` times as fine and its lines faded, for comparing. */
  readonly fine: Grey;
  /** Row of its top line. */
  readonly top: number;
}

type Coarse = Omit<Staff, 'fine'>;

export interface Layers {
  readonly staves: readonly Staff[];
  /** Left to right. */
  readonly words: readonly Word[];
}

/** The system at `FINE` pixels a space. */
export function layersOf(straight: Straight): Layers {
  const { tops } = straight;
  let words: Word[] = [];
  const staves = tops.map((_, k) => {
    const staff = staffOf(straight, k);
    const above = k === 0 ? looseAbove(staff) : [];
    const below = k === tops.length - 1 ? looseBelow(staff) : [];
    const fine = fineOf(straight, k, staff);
    const frames = framesOf(staff);
    if (k === 0) words = wordsOf({ ...staff, fine }, above, frames);
    const mask = maskOf(staff.picture, [...above, ...frames, ...below]);
    return {
      ...staff,
      picture: wiped(staff.picture, mask, 1, staff.top),
      fine: wiped(fine, mask, FINER, staff.top, FADE),
    };
  });
  return { staves, words };
}

/** Staff `k` with half of what lies between it and its neighbours. */
function staffOf({ width, height, data, unit, tops }: Straight, k: number): Coarse {
  const before = tops[k - 1];
  const after = tops[k + 1];
  const up = before === undefined ? ABOVE * FINE : Math.floor((tops[k]! - before - 4 * unit) / 2 / FINER);
  const down =
    after === undefined ? Math.ceil(BELOW * FINE) : Math.floor((after - tops[k]! - 4 * unit) / 2 / FINER);
  const [w, h] = [width >> 1, up + 4 * FINE + down + 1];
  const { at, bytes } = lent(data.length, w * h, w * h, w * h);
  const [page, out, room, soft] = at;
  bytes.set(data, page);
  const first = tops[k]! - up * FINER;
  kernels().coarseStaff(page, width, height, first, out, w, h, PALE, GRAIN, room, soft);
  const grey = (from: number): Grey => ({ width: w, height: h, data: bytes.slice(from, from + w * h) });
  return { picture: grey(out), soft: grey(soft), top: up };
}

/** What hangs together with nothing in a staff and stands above it. */
function looseAbove({ soft, top }: Coarse): Blob[] {
  const above: Blob[] = [];
  const ledgers: Blob[] = [];
  for (const blob of blobsOf(soft, INK, SPECK, [0, top - 1]).sort((a, b) => b.y1 - a.y1)) {
    if (blob.y1 >= top - 1) continue;
    const isFlat = blob.y1 - blob.y0 <= FLAT && blob.x1 - blob.x0 >= 1.3 * FINE;
    const isOnLedger = ledgers.some(
      (one) => blob.x0 < one.x1 && one.x0 < blob.x1 && one.y0 - blob.y1 <= (isFlat ? LEDGER : FLAT),
    );
    if (!isOnLedger && !(isFlat && top - blob.y1 <= LEDGER)) above.push(blob);
    else if (isFlat) ledgers.push(blob);
  }
  return above;
}

/** Words, left to right: neither brackets nor what stands in frames, the names of sections. */
function wordsOf(staff: Staff, above: readonly Blob[], frames: readonly Blob[]): Word[] {
  const { soft, top } = staff;
  const letters = above.filter(
    (blob) => !isBracket(soft, blob) && !frames.some((frame) => isInside(blob, frame)),
  );
  const words = joined(letters, WORD, 2)
    .filter(({ y0, y1, pixels }) => y1 - y0 >= LOW || pixels.length >= FEW)
    .sort((a, b) => a.x0 - b.x0);
  const all = maskOf(staff.picture, words);
  return words.map((blob) => ({
    x0: blob.x0,
    x1: blob.x1,
    foot: blob.y1 - top,
    picture: pictureOf(staff, blob, all),
  }));
}

/**
 * A word and what else stands close around it but is of no other word, as fine as is compared: a flat may be too faint
 * to be seen as part of its word.
 * @param all masks every word
 */
function pictureOf({ picture, fine }: Staff, blob: Blob, all: Uint8Array): Grey {
  const own = maskOf(picture, [blob], blob.x0 - 1, blob.x1 - blob.x0 + 2);
  const [x0, y0] = [blob.x0 - BESIDE, blob.y0 - OVER];
  const around = cropped(fine, FINER * x0, FINER * (blob.x1 + BESIDE), FINER * y0, FINER * (blob.y1 + OVER));
  const { width, height, data } = around;
  for (let column = 0, i = 0; column < width; column++)
    for (let row = 0; row < height; row++, i++) {
      const [x, y] = [x0 + (column >> 1), y0 + (row >> 1)];
      const at = x * picture.height + y;
      const isPaper = x < 0 || x >= picture.width || y < 0;
      if (isPaper || (all[at] && !own[at - (blob.x0 - 1) * picture.height])) data[i] = 0;
    }
  return around;
}

/** What is further below a staff than a note on a ledger line: words. */
function looseBelow({ soft, top }: Coarse): Blob[] {
  const bottom = top + 4 * FINE;
  const kept: Blob[] = [];
  const below: Blob[] = [];
  for (const blob of blobsOf(soft, INK, SPECK, [bottom + 2, soft.height]).sort((a, b) => a.y0 - b.y0)) {
    const hangs =
      blob.y0 - bottom <= HANGING ||
      kept.some((one) => blob.x0 < one.x1 + WORD && one.x0 < blob.x1 + WORD && blob.y0 - one.y1 <= LEDGER);
    (hangs ? kept : below).push(blob);
  }
  return below;
}

/**
 * Wipes out of a picture what is masked and what lies beyond a bar's reach; `by` pixels for one of the mask. `fade` is taken
 * off the rows around each line of the staff, whose top line is in row `by` · `top`: lines are drawn stronger here than
 * there, say nothing, and are taken off whatever lies on them.
 */
function wiped(picture: Grey, mask: Uint8Array, by: number, top: number, fade: readonly number[] = []): Grey {
  const { width, height, data } = picture;
  const highest = by * Math.max(0, top - Math.round(REACH * FINE));
  const { at, bytes } = lent(data.length, mask.length);
  const [grey, masks] = at;
  bytes.set(data, grey);
  bytes.set(mask, masks);
  kernels().masked(grey, width, height, masks, by, highest);
  for (let k = 0; k < 5; k++)
    fade.forEach((off, i) => {
      const row = by * (top + k * FINE) + i - (fade.length >> 1);
      if (row >= 0 && row < height) kernels().faded(grey, width, height, row, off);
    });
  data.set(bytes.subarray(grey, grey + data.length));
  return picture;
}

/** The rows of a staff as the straightened picture has them; grain is left out. */
function fineOf({ width, height, data, tops }: Straight, k: number, { picture, soft, top }: Coarse): Grey {
  const [w, h] = [FINER * picture.width, FINER * picture.height];
  const { at, bytes } = lent(data.length, soft.data.length, w * h);
  const [page, grains, out] = at;
  bytes.set(data, page);
  bytes.set(soft.data, grains);
  kernels().fineStaff(page, width, height, tops[k]! - FINER * top, out, w, h, PALE, GRAIN, grains);
  return { width: w, height: h, data: bytes.slice(out, out + w * h) };
}

/** Frames above a staff; their lines may be thin and pale. */
const framesOf = ({ soft, top }: Coarse) =>
  blobsOf(soft, FAINT, SPECK, [0, top - 1]).filter((blob) => isFrame(soft, blob));

const isInside = (one: Blob, frame: Blob) =>
  one.x0 >= frame.x0 && one.x1 <= frame.x1 && one.y0 >= frame.y0 && one.y1 <= frame.y1;

/** Dark along all four sides and in its corners, as no letter is. */
function isFrame({ height, data }: Grey, { x0, x1, y0, y1 }: Blob): boolean {
  if (x1 - x0 < FRAME * FINE || y1 - y0 < FRAME * FINE) return false;
  const isDark = (from: number, to: number, at: (i: number, off: number) => number) => {
    let dark = 0;
    for (let i = from; i < to; i++) if ([0, 1].some((off) => data[at(i, off)]! >= FAINT)) dark++;
    return dark >= CORNERS * (to - from);
  };
  return (
    isDark(y0, y1, (y, off) => (x0 + off) * height + y) &&
    isDark(y0, y1, (y, off) => (x1 - 1 - off) * height + y) &&
    isDark(x0, x1, (x, off) => x * height + y0 + off) &&
    isDark(x0, x1, (x, off) => x * height + y1 - 1 - off)
  );
}

/** A level line over its whole length, with paper close above and below nearly all of it. */
function isBracket({ height, data }: Grey, { x0, x1, y0, y1 }: Blob): boolean {
  if (x1 - x0 < BRACKET * FINE) return false;
  for (let y = y0; y < y1; y++) {
    let [dark, thin] = [0, 0];
    for (let x = x0; x < x1; x++) {
      const at = x * height + y;
      if (data[at]! < INK && (data[at + 1] ?? 0) < INK) continue;
      dark++;
      if ((data[at - 3] ?? 0) < INK && (data[at + 4] ?? 0) < INK) thin++;
    }
    if (dark >= SIDES * (x1 - x0) && thin >= THIN * (x1 - x0)) return true;
  }
  return false;
}
