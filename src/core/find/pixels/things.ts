import { kernels, lent } from '../kernels/kernels.ts';
import type { Thing } from '../types.ts';
import type { Barline } from './barlines.ts';
import type { Straight } from './straight.ts';
import { INK } from './uprights.ts';

/** Ink is looked at from so many spaces above the top line to so many below the bottom line. */
const BEYOND = 3;
/** A staff line is taken out where nothing crosses it: so far from its middle, in spaces. */
const LINE = 0.17;
/** Smaller things, in spaces, are specks and dots. */
const SPECK = 0.5;
/** Half of the width that a bar line's ink takes, in spaces: a single one, and one of several strokes with dots. */
const SINGLE = 0.3;
const WIDER = 1;
/** A clef with its margins takes so many spaces at the start of a staff; a signature may follow. */
const CLEF = 4.2;
const SIGNATURES = 13;
/** The meter stands at least so far from the start of a staff. */
const METER_AT = 3.6;
/** The tail of a staff behind its last bar line is at most so wide where it holds nothing but the next line's meter. */
const ANNOUNCED = 5;
/** A head is at least this wide and high, in spaces, and so much of that is ink. */
const HEAD_WIDE = 0.9;
const HEAD_HIGH = 0.55;
const FILLED = 0.93;
/** A digit of a meter is so wide, at least, and so high, at least and at most, in spaces. */
const WIDE = 0.9;
const TIME_HALF = [1.75, 4.2] as const;
/** A stem is at least this long and at most this wide, in spaces. */
const STEM = 2.4;
const STEM_WIDE = 0.3;

/** What stands on the staves of a system between its bar lines. */
export function thingsOf(straight: Straight, barlines: readonly Barline[]): Thing[] {
  const things = straight.tops.map((_, k) => thingsOn(straight, k, barlines));
  // The meter stands over itself: what one staff shows is so on all.
  const times = things.flatMap((some) => some.filter(({ kind }) => kind === 'time').slice(-1));
  const isMeter = ({ x0, x1 }: Thing) => times.some((one) => one.x0 < x1 && one.x1 > x0);
  const known = things.map((some) =>
    some.map((thing) =>
      thing.kind === 'head' && isMeter(thing) ? { ...thing, kind: 'time' as const } : thing,
    ),
  );
  return known.flatMap((some, k) => withoutSignature(some, straight, k));
}

/**
 * Signs of a signature may look like heads with stems. A meter or more signs stand after them; after the heads of a
 * pickup stand only heads, and behind the meter all that has a head is a note.
 */
function withoutSignature(
  things: readonly Thing[],
  { unit, ends, tops }: Straight,
  k: number,
): readonly Thing[] {
  const zone = things.filter(({ x0 }) => x0 - ends[k]!.x0 < SIGNATURES * unit);
  const meters = zone.filter(({ kind }) => kind === 'time');
  // A frame over the staff is none of them.
  const others = zone.filter(({ kind, y1 }) => kind === 'other' && y1 > tops[k]!);
  const last = Math.max(...(meters.length > 0 ? meters : others).map(({ x0 }) => x0));
  return things.map((thing) =>
    thing.kind === 'head' && zone.includes(thing) && thing.x0 < last ? { ...thing, kind: 'other' } : thing,
  );
}

/** Ink on a staff and around it, without its lines and bar lines: rows from `from` on, 1 ink, 0 none. */
export interface StaffInk {
  readonly data: Uint8Array;
  readonly width: number;
  readonly rows: number;
  readonly from: number;
}

export function staffInk(straight: Straight, k: number, barlines: readonly Barline[]): StaffInk {
  const { unit, width, tops } = straight;
  const top = tops[k]!;
  const from = Math.max(0, Math.round(top - BEYOND * unit));
  const to = Math.min(straight.height - 1, Math.round(top + (4 + BEYOND) * unit));
  const data = withoutLines(straight, top, from, to);
  for (const { x, kind } of barlines) {
    const half = (kind === 'single' ? SINGLE : WIDER) * unit;
    for (let u = Math.max(0, Math.round(x - half)); u <= Math.min(width - 1, x + half); u++)
      for (let v = 0; v <= to - from; v++) data[v * width + u] = 0;
  }
  return { data, width, rows: to - from + 1, from };
}

function thingsOn(straight: Straight, k: number, barlines: readonly Barline[]): Thing[] {
  const { unit, width, tops, ends } = straight;
  const top = tops[k]!;
  const { data: ink, rows, from } = staffInk(straight, k, barlines);
  const { x0: start, x1: end } = ends[k]!;
  const blobs = blobsOf(ink, width, rows)
    .filter((blob) => blob.x1 > start && blob.x0 < end + unit)
    .filter((blob) => Math.max(blob.x1 - blob.x0, blob.y1 - blob.y0) >= SPECK * unit)
    // Chord symbols and words stand clear of the staff.
    .filter((blob) => blob.y1 + from > top - 0.8 * unit && blob.y0 + from < top + 4.8 * unit);
  const isInZone = ({ x0 }: Blob) => x0 - start < SIGNATURES * unit;
  // Two sharps beside each other may be as high: the meter is the last that looks like one.
  const times = blobs
    .filter((blob) => isInZone(blob) && blob.x0 - start >= METER_AT * unit)
    .filter((blob) => isTime(ink, width, blob, top - from, unit));
  const behind = Math.max(...times.map(({ x1 }) => x1));
  // The meter that the next line begins with stands alone behind the last bar line; its digits may be apart.
  const last = Math.max(...barlines.map(({ x }) => x));
  const tail = end - last < ANNOUNCED * unit ? blobs.filter(({ x0 }) => x0 > last) : [];
  if (tail.length > 0 && isTime(ink, width, around(tail), top - from, unit)) times.push(...tail);
  return blobs.map((blob) => {
    const { x0, x1, y0, y1 } = blob;
    const found = times.includes(blob) ? 'time' : kindOf(ink, width, blob, unit, x0 - start);
    // A rest stands in the staff; words that touch it from below do not.
    const middle = (y0 + y1) / 2 + from - top;
    const isOff = found === 'rest' && (middle < 0.5 * unit || middle > 3.5 * unit);
    // No sign of a signature stands behind the meter: what has a head there is a note, though its stem be broken.
    const isNote =
      times.length > 0 &&
      isInZone(blob) &&
      x0 > behind &&
      middle > 0 &&
      middle < 4 * unit &&
      hasHead(ink, width, blob, unit);
    const kind = isNote ? 'head' : isOff ? 'other' : found;
    return { kind, x0, x1, y0: y0 + from, y1: y1 + from };
  });
}

/**
 * Two digits over each other around the middle of the staff, whose first line is at row `top`: they fill it, or are
 * larger. A note is thin where its stem is.
 */
function isTime(ink: Uint8Array, width: number, blob: Blob, top: number, unit: number): boolean {
  const { x0, x1, y0, y1 } = blob;
  const half = (y1 - y0) / 2;
  const isWide = (from: number) =>
    widthIn(ink, width, blob, from + 0.15 * half, from + 0.85 * half) > WIDE * unit;
  return (
    x1 - x0 > 1.2 * unit &&
    Math.abs((y0 + y1) / 2 - top - 2 * unit) < 0.35 * unit &&
    half > TIME_HALF[0] * unit &&
    half < TIME_HALF[1] * unit &&
    isWide(y0) &&
    isWide(y0 + half)
  );
}

/** The box around some blobs. */
export const around = (blobs: readonly Blob[]): Blob => ({
  x0: Math.min(...blobs.map(({ x0 }) => x0)),
  x1: Math.max(...blobs.map(({ x1 }) => x1)),
  y0: Math.min(...blobs.map(({ y0 }) => y0)),
  y1: Math.max(...blobs.map(({ y1 }) => y1)),
});

/** From the first to the last column of a blob with ink in some rows. */
export function widthIn(ink: Uint8Array, width: number, { x0, x1 }: Blob, from: number, to: number): number {
  let [first, last] = [x1, x0];
  for (let v = Math.round(from); v < to; v++)
    for (let u = x0; u < x1; u++)
      if (ink[v * width + u]) {
        first = Math.min(first, u);
        last = Math.max(last, u + 1);
      }
  return last - first;
}

/** What of some pixels is ink, darker than `least`: 1, all else 0. */
export function inkOf(pixels: Uint8Array, least = INK): Uint8Array {
  const { at, bytes } = lent(pixels.length, pixels.length);
  const [given, found] = at;
  bytes.set(pixels, given);
  kernels().darker(given, pixels.length, least, found);
  return bytes.slice(found, found + pixels.length);
}

/** Ink of some rows, staff lines taken out where nothing stands on them; 1 ink, 0 none. */
function withoutLines({ width, data, unit }: Straight, top: number, from: number, to: number): Uint8Array {
  const ink = inkOf(data.subarray(from * width, (to + 1) * width));
  const half = Math.max(1, Math.round(LINE * unit));
  for (let k = 0; k < 5; k++) {
    const line = top + k * unit - from;
    for (let u = 0; u < width; u++) {
      const above = ink[(line - half - 1) * width + u];
      const below = ink[(line + half + 1) * width + u];
      if (above || below) continue;
      for (let v = line - half; v <= line + half; v++) ink[v * width + u] = 0;
    }
  }
  return ink;
}

export interface Blob {
  readonly x0: number;
  readonly x1: number;
  readonly y0: number;
  readonly y1: number;
}

/** Connected ink, pixels that are 1, eight neighbours counted; by the first of their pixels, row by row. */
export function blobsOf(ink: Uint8Array, width: number, height: number): Blob[] {
  const size = width * height;
  const { at, bytes, words } = lent(size, 4 * size, 4 * (size + 2 * width) + 16);
  const [inkAt, room, found] = at;
  bytes.set(ink.subarray(0, size), inkAt);
  const count = kernels().blobs(inkAt, width, height, room, found);
  return Array.from({ length: count }, (_, i) => {
    const box = found / 4 + 4 * i;
    return { x0: words[box]!, x1: words[box + 1]!, y0: words[box + 2]!, y1: words[box + 3]! };
  });
}

/**
 * What a blob may be. At the start of the staff stand clef and signatures: there only what has a head and a stem
 * is played. Elsewhere all that has a rest's size is.
 */
function kindOf(ink: Uint8Array, width: number, blob: Blob, unit: number, at: number): Thing['kind'] {
  if (at < CLEF * unit) return 'clef';
  const isHead = hasHead(ink, width, blob, unit);
  // The uprights of sharps and naturals are shorter than stems.
  const least = at < SIGNATURES * unit ? 3.1 : STEM;
  if (isHead && hasStem(ink, width, blob, unit, least * unit)) return 'head';
  if (at < SIGNATURES * unit) return 'other';
  const [wide, high] = [blob.x1 - blob.x0, blob.y1 - blob.y0];
  if (isHead && wide < 2 * unit && high < 1.4 * unit) return 'head';
  return wide < 1.8 * unit && high > 0.45 * unit && high < 3.6 * unit ? 'rest' : 'other';
}

/** A place in the blob that is filled as a head is. */
export function hasHead(ink: Uint8Array, width: number, blob: Blob, unit: number): boolean {
  const [wide, high] = [Math.round(HEAD_WIDE * unit), Math.round(HEAD_HIGH * unit)];
  const places: number[] = [];
  for (let y = 0; y < high; y++)
    for (let x = 0; x < wide; x++) {
      const a = (2 * x + 1) / wide - 1;
      const b = (2 * y + 1) / high - 1;
      if (a * a + b * b <= 1) places.push(y * width + x);
    }
  const mayMiss = places.length - Math.ceil(FILLED * places.length);
  for (let v = blob.y0; v + high <= blob.y1; v++)
    for (let u = blob.x0, at = v * width + u; u + wide <= blob.x1; u++, at++) {
      let missed = 0;
      for (let k = 0; missed <= mayMiss && k < places.length; k++) if (!ink[at + places[k]!]) missed++;
      if (missed <= mayMiss) return true;
    }
  return false;
}

/** An upright run as long and as thin as a stem. */
function hasStem(ink: Uint8Array, width: number, blob: Blob, unit: number, least: number): boolean {
  for (let u = blob.x0, columns = 0; u <= blob.x1; u++) {
    let longest = 0;
    for (let v = blob.y0, run = 0; v < blob.y1; v++) {
      run = ink[v * width + u] ? run + 1 : 0;
      longest = Math.max(longest, run);
    }
    if (longest >= least) columns++;
    else if (columns > 0 && columns <= STEM_WIDE * unit) return true;
    else columns = 0;
  }
  return false;
}
