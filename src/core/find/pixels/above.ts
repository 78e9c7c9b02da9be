/** Where something is written over a staff, and what the net sees of it. */
import { POOL, UNIT, type Strip } from './strip.ts';
import type { Straight } from './straight.ts';
import { blobsOf, type Blob } from './things.ts';
import { INK } from './uprights.ts';

/** A window begins so many spaces before what is written, and holds so many; it is so many high. */
const BEFORE = 1.5;
const WIDE = 12;
const HIGH = 4;
/** What the net sees of a place, in pixels, and the column at which it begins. */
export const WINDOW = { rows: (HIGH * UNIT) / POOL, columns: (WIDE * UNIT) / POOL };
export const LEFT = (BEFORE * UNIT) / POOL;

/** Least and largest height of what is written, in spaces, and how far above the staff it ends. */
const LOW = 0.7;
const TALL = 5;
const CLEAR = 0.5;
/** White of a word between its letters and to the next word, in spaces. */
const GAP = 0.75;
const NEXT = 1.1;
/** A blob wider than this is a line, or words that noise has joined to one. */
const LINE = 5;
/** The number of a bracket begins about so far behind its corner, in spaces, and its middle is so far below the line. */
export const RIGHT = 0.5;
const BELOW = 1.2;

/** Something written over a staff, in columns and rows of the straightened picture. */
export interface WrittenPlace {
  readonly x0: number;
  /** The end of the words that begin here. */
  readonly x1: number;
  readonly y0: number;
  readonly y1: number;
}

/** The places over the top staff of a system where words, signs and numbers begin, left to right. */
export function placesAbove(straight: Straight): WrittenPlace[] {
  const { width, data, unit, tops } = straight;
  const rows = Math.round(tops[0]! - CLEAR * unit);
  const ink = new Uint8Array(width * rows);
  for (let i = 0; i < ink.length; i++) if (data[i]! > INK) ink[i] = 1;
  const blobs = blobsOf(ink, width, rows).filter(({ y0, y1 }) => y1 - y0 >= LOW * unit && y1 < rows - 1);
  const isLine = ({ x0, x1 }: Blob) => x1 - x0 > LINE * unit;
  const words = blobs
    .filter((blob) => !isLine(blob) && blob.y1 - blob.y0 <= TALL * unit)
    .sort((a, b) => a.x0 - b.x0);
  const starts = words
    .filter(
      (blob) => !words.some((other) => other !== blob && (holds(other, blob) || leads(other, blob, unit))),
    )
    .map((blob) => ({ ...blob, x1: endOf(blob, words, unit) }));
  const corners = blobs.filter(isLine).map(({ x0, x1, y0 }) => placeUnder({ x0, x1, y: y0 }, unit));
  return [...starts, ...corners].sort((a, b) => a.x0 - b.x0);
}

/** Where the number of a bracket with this line stands. */
export function placeUnder(
  { x0, x1, y }: { readonly x0: number; readonly x1: number; readonly y: number },
  unit: number,
): WrittenPlace {
  const middle = y + BELOW * unit;
  return { x0: x0 + RIGHT * unit, x1, y0: middle - 0.5 * unit, y1: middle + 0.5 * unit };
}

/** A box around a letter. */
const holds = (a: Blob, b: Blob) => a.x0 <= b.x0 && a.x1 >= b.x1 && a.y0 <= b.y0 && a.y1 >= b.y1;

const sharesLine = (a: Blob, b: Blob) =>
  Math.min(a.y1, b.y1) - Math.max(a.y0, b.y0) > 0.4 * Math.min(a.y1 - a.y0, b.y1 - b.y0);

/** A letter of the same word stands before it; the hook of a bracket is none, and high and narrow. */
function leads(a: Blob, b: Blob, unit: number): boolean {
  const isHook = a.x1 - a.x0 < 0.4 * unit && a.y1 - a.y0 > 1.3 * (b.y1 - b.y0);
  return !isHook && a.x0 < b.x0 && b.x0 - a.x1 < GAP * unit && sharesLine(a, b);
}

/** The right end of the words that begin with a letter. */
function endOf(first: Blob, words: readonly Blob[], unit: number): number {
  let end = first.x1;
  for (const blob of words)
    if (blob.x0 > first.x0 && blob.x0 - end < NEXT * unit && sharesLine(first, blob))
      end = Math.max(end, blob.x1);
  return end;
}

/** What the net sees of a place. */
export function windowAt({ width, height, data, unit }: Straight, { x0, y0, y1 }: WrittenPlace): Strip {
  const { rows, columns } = WINDOW;
  const left = Math.round(x0 - BEFORE * unit);
  const top = Math.round((y0 + y1 - HIGH * unit) / 2);
  const out = new Uint8Array(rows * columns);
  for (let y = 0; y < rows; y++) {
    const v = top + y * POOL;
    if (v < 0 || v + 1 >= height) continue;
    for (let x = 0; x < columns; x++) {
      const u = left + x * POOL;
      if (u < 0 || u + 1 >= width) continue;
      const i = v * width + u;
      out[y * columns + x] = (data[i]! + data[i + 1]! + data[i + width]! + data[i + width + 1]! + 2) >> 2;
    }
  }
  return { rows, columns, data: out };
}
