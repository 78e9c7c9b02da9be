/** Pulling staves straight. */

/** See `TILE` of `pixels/darkness.ts`. */
const TILE = 16;
/** Places on the page are reckoned in so many parts of a pixel. */
const PARTS: f32 = 65536;
/** And their ink is mixed by so many bits of that: no sum needs more than 32. */
const BITS = 11;

/** Whether a tile of the page between two columns and two rows has ink. */
function hasInk(tiles: usize, width: i32, height: i32, x0: i32, x1: i32, y0: i32, y1: i32): bool {
  const across = (width + TILE - 1) / TILE;
  const first = max(0, x0) / TILE;
  const last = min(width - 1, x1) / TILE;
  const bottom = min(height - 1, y1) / TILE;
  for (let y = max(0, y0) / TILE; y <= bottom; y++)
    for (let x = first; x <= last; x++) if (load<u8>(tiles + <usize>(y * across + x)) !== 0) return true;
  return false;
}

/**
 * Columns `first` to before `end` of a row of a straightened picture.
 * @param upper heights on the page of the level line above the row, floats
 * @param lower of the one below it, and `share` of the way from there to here
 * @param offset column of the page at the row's left edge, and `step` from one to the next
 */
export function fillRow(
  page: usize,
  width: i32,
  height: i32,
  tiles: usize,
  row: usize,
  first: i32,
  end: i32,
  upper: usize,
  lower: usize,
  share: f32,
  offset: f32,
  step: f32,
): void {
  const bottom = height - 1;
  for (let begin = first; begin < end; begin += TILE) {
    const last = min(end, begin + TILE) - 1;
    const from = heightAt(upper, lower, begin, share);
    const to = heightAt(upper, lower, last, share);
    // Columns are left out together where their part of the page is bare.
    const left = <i32>(offset + (<f32>begin + 0.5) * step);
    const right = <i32>(offset + (<f32>last + 0.5) * step) + 1;
    if (!hasInk(tiles, width, height, left, right, <i32>min(from, to) - 1, <i32>max(from, to) + 2)) continue;
    let u = begin;
    for (; u + 4 <= last + 1; u += 4)
      if (!fillFour(page, width, bottom, row, u, upper, lower, share, offset, step)) break;
    for (; u <= last; u++) {
      const y = heightAt(upper, lower, u, share);
      if (y < 0) continue;
      const x = max(0, <i32>((offset + (<f32>u + 0.5) * step) * PARTS));
      const high = <i32>(y * PARTS);
      const j = high >> 16;
      if (j >= bottom) continue;
      const at = page + <usize>(j * width + (x >> 16));
      const pair = <i32>load<u16>(at);
      const below = <i32>load<u16>(at + <usize>width);
      // Most of a page is paper.
      if ((pair | below) === 0) continue;
      const a = (x & 0xffff) >> (16 - BITS);
      const b = (high & 0xffff) >> (16 - BITS);
      const upperInk = ((pair & 255) << BITS) + ((pair >> 8) - (pair & 255)) * a;
      const lowerInk = ((below & 255) << BITS) + ((below >> 8) - (below & 255)) * a;
      store<u8>(row + <usize>u, <u8>(((upperInk << BITS) + (lowerInk - upperInk) * b) >> (2 * BITS)));
    }
  }
}

/** Four columns at once, by the same steps; false where one of them does not lie on the page. */
function fillFour(
  page: usize,
  width: i32,
  bottom: i32,
  row: usize,
  u: i32,
  upper: usize,
  lower: usize,
  share: f32,
  offset: f32,
  step: f32,
): bool {
  const at = (<usize>u) << 2;
  const from = v128.load(upper + at);
  const y = f32x4.add(from, f32x4.mul(f32x4.sub(v128.load(lower + at), from), f32x4.splat(share)));
  if (v128.any_true(f32x4.lt(y, f32x4.splat(0)))) return false;
  const high = i32x4.trunc_sat_f32x4_s(f32x4.mul(y, f32x4.splat(PARTS)));
  const j = i32x4.shr_s(high, 16);
  if (v128.any_true(i32x4.ge_s(j, i32x4.splat(bottom)))) return false;
  const column = f32x4.add(
    f32x4.convert_i32x4_s(i32x4.add(i32x4.splat(u), i32x4(0, 1, 2, 3))),
    f32x4.splat(0.5),
  );
  const wide = f32x4.mul(
    f32x4.add(f32x4.splat(offset), f32x4.mul(column, f32x4.splat(step))),
    f32x4.splat(PARTS),
  );
  const x = i32x4.max_s(i32x4.trunc_sat_f32x4_s(wide), i32x4.splat(0));
  const places = i32x4.add(
    i32x4.mul(j, i32x4.splat(width)),
    i32x4.add(i32x4.shr_s(x, 16), i32x4.splat(<i32>page)),
  );
  const pair = pairsAt(places, 0);
  const below = pairsAt(places, width);
  // Most of a page is paper.
  if (!v128.any_true(v128.or(pair, below))) return true;
  const part = i32x4.splat(0xffff);
  const a = i32x4.shr_s(v128.and(x, part), 16 - BITS);
  const b = i32x4.shr_s(v128.and(high, part), 16 - BITS);
  const upperInk = mixed(pair, a);
  const between = i32x4.mul(i32x4.sub(mixed(below, a), upperInk), b);
  const ink = i32x4.shr_s(i32x4.add(i32x4.shl(upperInk, BITS), between), 2 * BITS);
  const words = i16x8.narrow_i32x4_u(ink, ink);
  v128.store32_lane(row + <usize>u, i8x16.narrow_i16x8_u(words, words), 0);
  return true;
}

/** Two bytes from each of four places on, and `off` behind them. */
function pairsAt(places: v128, off: i32): v128 {
  let pairs = i32x4.splat(<i32>load<u16>(<usize>(i32x4.extract_lane(places, 0) + off)));
  pairs = i32x4.replace_lane(pairs, 1, <i32>load<u16>(<usize>(i32x4.extract_lane(places, 1) + off)));
  pairs = i32x4.replace_lane(pairs, 2, <i32>load<u16>(<usize>(i32x4.extract_lane(places, 2) + off)));
  return i32x4.replace_lane(pairs, 3, <i32>load<u16>(<usize>(i32x4.extract_lane(places, 3) + off)));
}

/** Two bytes mixed, by how much of the second. */
function mixed(pair: v128, share: v128): v128 {
  const first = v128.and(pair, i32x4.splat(255));
  return i32x4.add(i32x4.shl(first, BITS), i32x4.mul(i32x4.sub(i32x4.shr_u(pair, 8), first), share));
}

/**
 * How much a few columns of a straightened picture stand out when the rows of its staves are moved as `lean` has it.
 * @param tops of the staves, words: `rows` rows of each from there on are looked at
 * @param middle row that stays, and `lean` columns to the right for each row below it
 * @param sums room for a word a column, and a vector
 */
export function sharpness(
  picture: usize,
  width: i32,
  tops: usize,
  staves: i32,
  rows: i32,
  middle: f64,
  lean: f64,
  sums: usize,
): f64 {
  memory.fill(sums, 0, ((<usize>width) << 2) + 16);
  for (let k = 0; k < staves; k++) {
    const top = load<i32>(tops + ((<usize>k) << 2));
    for (let row = top; row < top + rows; row++) {
      const shift = <i32>Math.floor(lean * (<f64>row - middle) + 0.5);
      const begin = max(0, -shift);
      const end = min(width, width - shift);
      const at = picture + <usize>(row * width + shift);
      let u = begin;
      for (; u + 4 <= end; u += 4) {
        const sum = sums + ((<usize>u) << 2);
        const four = i32x4.extend_low_i16x8_u(i16x8.extend_low_i8x16_u(v128.load32_zero(at + <usize>u)));
        v128.store(sum, i32x4.add(v128.load(sum), four));
      }
      for (; u < end; u++) {
        const sum = sums + ((<usize>u) << 2);
        store<i32>(sum, load<i32>(sum) + <i32>load<u8>(at + <usize>u));
      }
    }
  }
  // The fourth power: columns that are black from end to end count, all else hardly.
  let all: f64 = 0;
  for (let u = 0; u < width; u++) {
    const value = <f64>load<i32>(sums + ((<usize>u) << 2)) / 1000;
    all += value * value * (value * value);
  }
  return all;
}

function heightAt(upper: usize, lower: usize, u: i32, share: f32): f32 {
  const from = load<f32>(upper + ((<usize>u) << 2));
  return from + (load<f32>(lower + ((<usize>u) << 2)) - from) * share;
}
