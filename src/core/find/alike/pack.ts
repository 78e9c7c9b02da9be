/** Small grey pictures as they are kept: six levels of grey in about a kilobyte for a bar. */
import type { PackedGrey } from '../types.ts';
import { bitReader, bitWriter } from './bits.ts';
import type { Grey } from './grey.ts';

/** Between two levels that are kept, of 15. */
const STEP = 3;
const LEVELS = 6;
/** What is paler is paper. */
const FAINT = 3;
/** In this order a pixel is asked for its level: paper and full ink are most. */
const ORDER = [0, 5, 3, 2, 4, 1];
const RANKS = ORDER.map((_, level) => ORDER.indexOf(level));
/** Levels that are told apart in what is around a pixel. */
const AROUND = 4;
const ABOUT = [0, 1, 1, 2, 2, 3];
/** Rows of a column that are mostly all paper. */
const ROWS = 8;
/** Places of bits: whether a column has ink, whether so many rows of it have, which of the first levels a pixel is not. */
const BLOCKS = 2;
const PIXELS = 10;
const PLACES = PIXELS + AROUND ** 4 * LEVELS;

export function pack({ width, height, data }: Grey): PackedGrey {
  const { put, end } = bitWriter(PLACES);
  const levels = data.map((value) => (value < FAINT ? 0 : ((value + 1) / STEP) | 0));
  walk(width, height, levels, {
    block: (place, from, to) => {
      let at = from;
      while (at < to && levels[at] === 0) at++;
      put(place, at < to ? 1 : 0);
      return at < to;
    },
    pixel: (place, at) => {
      const own = RANKS[levels[at]!]!;
      for (let rank = 0; rank < LEVELS - 1 && rank <= own; rank++) put(place + rank, rank === own ? 0 : 1);
    },
  });
  return { width, height, text: end() };
}

export function unpack({ width, height, text }: PackedGrey): Grey {
  const bit = bitReader(PLACES, text);
  const levels = new Uint8Array(width * height);
  walk(width, height, levels, {
    block: (place) => bit(place) === 1,
    pixel: (place, at) => {
      let rank = 0;
      while (rank < LEVELS - 1 && bit(place + rank) === 1) rank++;
      levels[at] = ORDER[rank]!;
    },
  });
  for (let i = 0; i < levels.length; i++) levels[i]! *= STEP;
  return { width, height, data: levels };
}

interface Visitor {
  /** Whether there is ink in some rows of a column. */
  readonly block: (place: number, from: number, to: number) => boolean;
  readonly pixel: (place: number, at: number) => void;
}

/** Goes through a picture column by column; places follow from what was seen before. */
function walk(width: number, height: number, levels: Uint8Array, { block, pixel }: Visitor): void {
  // Whether there was ink, row by row of blocks, in the column before and, as far as it is known, in this one.
  const inked = new Uint8Array(Math.ceil(height / ROWS) + 1);
  for (let x = 0, before = 0; x < width; x++) {
    const isPaper = !block(before, x * height, (x + 1) * height);
    before = isPaper ? 0 : 1;
    if (isPaper) inked.fill(0);
    for (let k = 0, above = 0; !isPaper && k * ROWS < height; k++) {
      const from = x * height + k * ROWS;
      const to = x * height + Math.min(height, (k + 1) * ROWS);
      const hasInk = block(BLOCKS + inked[k]! + 2 * inked[k + 1]! + 4 * above, from, to);
      above = inked[k] = hasInk ? 1 : 0;
      if (hasInk) for (let at = from; at < to; at++) pixel(placeOf(levels, at, height), at);
    }
  }
}

/** By the levels above, before, and before a row higher and lower. */
function placeOf(levels: Uint8Array, at: number, height: number): number {
  if (at <= height || height < 2) return PIXELS + LEVELS * (at > 0 ? ABOUT[levels[at - 1]!]! : 0);
  const before = at - height;
  const around =
    ABOUT[levels[before]!]! + AROUND * (ABOUT[levels[before - 1]!]! + AROUND * ABOUT[levels[before + 1]!]!);
  return PIXELS + LEVELS * (ABOUT[levels[at - 1]!]! + AROUND * around);
}
