/** A page's pixels: their grey, their paper, their ink, and what shows of it in strips. */

/** See `SQUARE` and `TILE` of `pixels/darkness.ts`. */
const SQUARE = 32;
const TILE = 16;

/** Grey of `count` pixels of three bytes, by the weights of `lumaOf`. */
export function greyOfRgb(rgb: usize, grey: usize, count: i32): void {
  let i = 0;
  for (; i + 16 <= count; i += 16, rgb += 48, grey += 16) {
    const p = v128.load(rgb);
    const q = v128.load(rgb, 16);
    const r = v128.load(rgb, 32);

    const red = v128.shuffle<u8>(
      v128.shuffle<u8>(p, q, 0, 3, 6, 9, 12, 15, 18, 21, 24, 27, 30, 0, 0, 0, 0, 0),
      r,
      0,
      1,
      2,
      3,
      4,
      5,
      6,
      7,
      8,
      9,
      10,
      17,
      20,
      23,
      26,
      29,
    );

    const green = v128.shuffle<u8>(
      v128.shuffle<u8>(p, q, 1, 4, 7, 10, 13, 16, 19, 22, 25, 28, 31, 0, 0, 0, 0, 0),
      r,
      0,
      1,
      2,
      3,
      4,
      5,
      6,
      7,
      8,
      9,
      10,
      18,
      21,
      24,
      27,
      30,
    );

    const blue = v128.shuffle<u8>(
      v128.shuffle<u8>(p, q, 2, 5, 8, 11, 14, 17, 20, 23, 26, 29, 0, 0, 0, 0, 0, 0),
      r,
      0,
      1,
      2,
      3,
      4,
      5,
      6,
      7,
      8,
      9,
      16,
      19,
      22,
      25,
      28,
      31,
    );
    const low = weighed(
      i16x8.extend_low_i8x16_u(red),
      i16x8.extend_low_i8x16_u(green),
      i16x8.extend_low_i8x16_u(blue),
    );
    const high = weighed(
      i16x8.extend_high_i8x16_u(red),
      i16x8.extend_high_i8x16_u(green),
      i16x8.extend_high_i8x16_u(blue),
    );
    v128.store(grey, i8x16.narrow_i16x8_u(low, high));
  }
  for (; i < count; i++, rgb += 3, grey++)
    store<u8>(
      grey,
      (77 * <i32>load<u8>(rgb) + 150 * <i32>load<u8>(rgb, 1) + 29 * <i32>load<u8>(rgb, 2)) >> 8,
    );
}

/** Grey of a row of `count` pixels of a bit each, black or white. Behind it there is room for a whole vector. */
export function greyOfBits(bits: usize, grey: usize, count: i32): void {
  const masks = i8x16(-128, 64, 32, 16, 8, 4, 2, 1, -128, 64, 32, 16, 8, 4, 2, 1);
  for (let i = 0; i < count; i += 16, bits += 2, grey += 16) {
    const two = v128.load16_splat(bits);
    const each = v128.shuffle<u8>(two, two, 0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 1, 1, 1, 1);
    v128.store(grey, i8x16.eq(v128.and(each, masks), masks));
  }
}

function weighed(red: v128, green: v128, blue: v128): v128 {
  const sum = i16x8.add(
    i16x8.add(i16x8.mul(red, i16x8.splat(77)), i16x8.mul(green, i16x8.splat(150))),
    i16x8.mul(blue, i16x8.splat(29)),
  );
  return i16x8.shr_u(sum, 8);
}

/**
 * Grey of the paper in every square, as floats at `out`: looked for from the light end, the darkest grey that, with all
 * below it, is `share` of the square; at least `darkest`.
 * @param counts room for 4 · 256 words
 */
export function papers(
  page: usize,
  width: i32,
  height: i32,
  share: f64,
  darkest: i32,
  counts: usize,
  out: usize,
): void {
  for (let y0 = 0; y0 < height; y0 += SQUARE)
    for (let x0 = 0; x0 < width; x0 += SQUARE, out += 4) {
      const all = countsIn(page, width, height, x0, y0, counts);
      let grey = 255;
      let below = all - load<i32>(counts, 1020);
      while (grey > 0 && <f64>below >= share * <f64>all) {
        grey--;
        below -= load<i32>(counts + ((<usize>grey) << 2));
      }
      store<f32>(out, <f32>max(darkest, grey));
    }
}

/** Each of so many floats joined with those around it, row by row: the most of them, or else their mean. */
export function around(given: usize, across: i32, down: i32, isMost: bool, out: usize): void {
  for (let j = 0; j < down; j++)
    for (let i = 0; i < across; i++, out += 4) {
      let most: f32 = 0;
      let sum: f32 = 0;
      let count: f32 = 0;
      for (let y = max(0, j - 1); y <= min(down - 1, j + 1); y++)
        for (let x = max(0, i - 1); x <= min(across - 1, i + 1); x++, count++) {
          const value = load<f32>(given + ((<usize>(y * across + x)) << 2));
          most = max(most, value);
          sum += value;
        }
      store<f32>(out, isMost ? most : sum / count);
    }
}

/**
 * How many pixels of a square have each grey, every second row left out: into 256 words. Gives how many that are. Four
 * tables are filled by turns: what is added to a word at once again has to wait for it.
 */
function countsIn(page: usize, width: i32, height: i32, x0: i32, y0: i32, counts: usize): i32 {
  memory.fill(counts, 0, 4096);
  const right = min(width, x0 + SQUARE);
  const bottom = min(height, y0 + SQUARE);
  const white = i8x16.splat(-1);
  let lightest: u32 = 0;
  for (let y = y0; y < bottom; y += 2) {
    let i = page + <usize>(y * width + x0);
    const end = page + <usize>(y * width + right);
    while (i < end) {
      // Most of a page is paper.
      if (i + 16 <= end && i8x16.all_true(i8x16.eq(v128.load(i), white))) {
        lightest += 16;
        i += 16;
        continue;
      }
      for (const stop = min(end, i + 16); i < stop; i++) {
        const count = counts + ((i & 3) << 10) + ((<usize>load<u8>(i)) << 2);
        store<u32>(count, load<u32>(count) + 1);
      }
    }
  }
  for (let at = counts, end = counts + 1024; at < end; at += 16) {
    const two = i32x4.add(v128.load(at), v128.load(at, 1024));
    v128.store(at, i32x4.add(two, i32x4.add(v128.load(at, 2048), v128.load(at, 3072))));
  }
  store<u32>(counts, load<u32>(counts, 1020) + lightest, 1020);
  return ((bottom - y0 + 1) >> 1) * (right - x0);
}

/** Less ink than this is not counted: a page has no full ink as faint as that, see `FAINTEST` of `pixels/darkness.ts`. */
const COUNTED = 31;

/**
 * What each pixel has less than its paper, 0–255, into `taken`, and the most of it in each tile into `tiles`; adds to
 * the 256 words at `counts` how many pixels have so much, from `COUNTED` on.
 * @param paper of every square, floats
 * @param row room for those of a row of pixels
 */
export function takenFrom(
  page: usize,
  width: i32,
  height: i32,
  paper: usize,
  row: usize,
  taken: usize,
  tiles: usize,
  counts: usize,
): void {
  const across = (width + SQUARE - 1) / SQUARE;
  const down = (height + SQUARE - 1) / SQUARE;
  for (let y = 0; y < height; y++) {
    // The paper between the middles of the squares.
    const at = min(<f32>(down - 1), max(<f32>0, <f32>(y - SQUARE / 2) / <f32>SQUARE));
    const j = min(down - 2, <i32>at);
    const upper = paper + ((<usize>(j * across)) << 2);
    for (let i: usize = 0; i < (<usize>across) << 2; i += 4) {
      const from = load<f32>(upper + i);
      store<f32>(row + i, from + (load<f32>(upper + ((<usize>across) << 2) + i) - from) * (at - <f32>j));
    }
    takenInRow(page, width, y, row, taken, tiles, counts);
  }
}

function takenInRow(
  page: usize,
  width: i32,
  y: i32,
  paper: usize,
  taken: usize,
  tiles: usize,
  counts: usize,
): void {
  const across = (width + SQUARE - 1) / SQUARE;
  const counted = i8x16.splat(<i8>COUNTED);
  for (
    let x0 = 0, tile = tiles + <usize>(y / TILE) * <usize>((width + TILE - 1) / TILE);
    x0 < width;
    x0 += TILE, tile++
  ) {
    const i = page + <usize>(y * width + x0);
    const count = min(TILE, width - x0);
    // From the middle of one square to that of the next the paper changes evenly; at the sides it stays.
    const cell = (x0 + SQUARE / 2) / SQUARE - 1;
    const left = load<f32>(paper + ((<usize>max(0, cell)) << 2));
    const change = (load<f32>(paper + ((<usize>min(across - 1, cell + 1)) << 2)) - left) / <f32>SQUARE;
    const start = left + change * <f32>(x0 - cell * SQUARE - SQUARE / 2);
    const lightest = i8x16.splat(<i8>(<i32>ceil(max(start, start + change * <f32>TILE))));
    // Most of a page is paper. What lies behind the page's last row is not looked at: there is memory.
    const darker = firstOf(i8x16.lt_u(v128.load(i), lightest), count);
    if (!v128.any_true(darker)) continue;
    const along = f32x4.mul(f32x4.splat(change), f32x4(0, 1, 2, 3));
    const ink = firstOf(
      i8x16.narrow_i16x8_u(
        i16x8.narrow_i32x4_u(missing(i, start, along), missing(i + 4, start + change * 4, along)),
        i16x8.narrow_i32x4_u(
          missing(i + 8, start + change * 8, along),
          missing(i + 12, start + change * 12, along),
        ),
      ),
      count,
    );
    const out = taken + <usize>(y * width + x0);
    if (count === TILE) v128.store(out, ink);
    else for (let k = 0; k < count; k++) store<u8>(out + k, byteOf(ink, k));
    const most = v128.load8_splat(tile);
    if (v128.any_true(i8x16.gt_u(ink, most))) store<u8>(tile, mostOf(ink));
    if (!v128.any_true(i8x16.ge_u(ink, counted))) continue;
    for (let k = 0; k < count; k++) {
      const value = <u32>byteOf(ink, k);
      const at = counts + ((<usize>value) << 2);
      if (value >= <u32>COUNTED) store<u32>(at, load<u32>(at) + 1);
    }
  }
}

/** What four pixels have less than their paper, which begins like this and changes along them. */
function missing(at: usize, start: f32, along: v128): v128 {
  const white = f32x4.add(f32x4.splat(start), along);
  const full = f32x4.splat(255);
  const grey = f32x4.convert_i32x4_u(
    i32x4.extend_low_i16x8_u(i16x8.extend_low_i8x16_u(v128.load32_zero(at))),
  );
  // What is less than nothing becomes nothing where it is made bytes.
  return i32x4.trunc_sat_f32x4_s(f32x4.sub(full, f32x4.div(f32x4.mul(full, grey), white)));
}

/** One byte of a vector. */
function byteOf(all: v128, k: i32): u8 {
  const eight = k < 8 ? i64x2.extract_lane(all, 0) : i64x2.extract_lane(all, 1);
  return <u8>(eight >>> ((k & 7) << 3));
}

/** The most of the bytes of a vector. */
function mostOf(all: v128): u8 {
  const eight = i8x16.max_u(all, v128.shuffle<u64>(all, all, 1, 0));
  const four = i8x16.max_u(eight, v128.shuffle<u32>(eight, eight, 1, 0, 3, 2));
  let most: u8 = 0;
  for (let words = <u32>i32x4.extract_lane(four, 0); words !== 0; words >>>= 8) most = max(most, <u8>words);
  return most;
}

/** Deepens the ink of tiles that have any, so that `full` becomes 255, and their marks with it. */
export function deepen(ink: usize, width: i32, height: i32, tiles: usize, full: i32): void {
  const by = f32x4.splat(<f32>2 * <f32>full);
  for (let y0 = 0, tile = tiles; y0 < height; y0 += TILE)
    for (let x0 = 0; x0 < width; x0 += TILE, tile++) {
      const most = <i32>load<u8>(tile);
      if (most === 0) continue;
      const count = min(TILE, width - x0);
      for (let y = y0; y < min(height, y0 + TILE); y++) {
        const at = ink + <usize>(y * width + x0);
        if (count === TILE) v128.store(at, deepened(v128.load(at), full, by));
        else for (let i = at; i < at + <usize>count; i++) store<u8>(i, <u8>depthOf(<i32>load<u8>(i), full));
      }
      store<u8>(tile, <u8>depthOf(most, full));
    }
}

/** Ink by how much of `full` it is, rounded. */
function depthOf(ink: i32, full: i32): i32 {
  return min(255, (510 * ink + full) / (2 * full));
}

/** The same for 16 pixels. Quotients that are not whole are further from it than floats are rounded. */
function deepened(ink: v128, full: i32, by: v128): v128 {
  const low = i16x8.extend_low_i8x16_u(ink);
  const high = i16x8.extend_high_i8x16_u(ink);
  return i8x16.narrow_i16x8_u(
    i16x8.narrow_i32x4_u(
      fourDeepened(i32x4.extend_low_i16x8_u(low), full, by),
      fourDeepened(i32x4.extend_high_i16x8_u(low), full, by),
    ),
    i16x8.narrow_i32x4_u(
      fourDeepened(i32x4.extend_low_i16x8_u(high), full, by),
      fourDeepened(i32x4.extend_high_i16x8_u(high), full, by),
    ),
  );
}

function fourDeepened(ink: v128, full: i32, by: v128): v128 {
  const whole = i32x4.add(i32x4.mul(ink, i32x4.splat(510)), i32x4.splat(full));
  return i32x4.trunc_sat_f32x4_u(f32x4.div(f32x4.convert_i32x4_u(whole), by));
}

/** The first bytes of a vector, so many; the others are 0. */
export function firstOf(all: v128, count: i32): v128 {
  const places = i8x16(0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15);
  return count >= 16 ? all : v128.and(all, i8x16.lt_u(places, i8x16.splat(<i8>count)));
}

/** What each of 16 pixels is darker than those so far before and behind it in memory. */
export function thinAt(at: usize, far: usize): v128 {
  return i8x16.sub_sat_u(v128.load(at), i8x16.max_u(v128.load(at - far), v128.load(at + far)));
}

/** Sum of the 16-bit words of a vector that holds pairs of bytes added up. */
export function sumOf(pairs: v128): i32 {
  const four = i32x4.extadd_pairwise_i16x8_u(pairs);
  const two = i32x4.add(four, v128.shuffle<u64>(four, four, 1, 0));
  return i32x4.extract_lane(two, 0) + i32x4.extract_lane(two, 1);
}

/** Mean darkness of each row of an upright strip, from column `x0` on and `strip` wide, as floats. */
export function plainProfile(
  page: usize,
  width: i32,
  height: i32,
  x0: i32,
  strip: i32,
  profile: usize,
): void {
  for (let y = 0; y < height; y++, profile += 4) {
    let i = page + <usize>(y * width + x0);
    const end = i + <usize>strip;
    let pairs = i16x8.splat(0);
    // A strip is far narrower than would make 16 bits too few. What lies behind the page's last row is not counted.
    for (; i < end; i += 16)
      pairs = i16x8.add(pairs, i16x8.extadd_pairwise_i8x16_u(firstOf(v128.load(i), <i32>(end - i))));
    store<f32>(profile, <f32>sumOf(pairs) / <f32>strip);
  }
}

/**
 * The same of what is darker than the pixels `reach` above and below it.
 * @param runs of columns of the strip in which the lines have gone down alike: how many columns, at most 16, and how far
 * @param count of them
 * @param margin rows at the top and bottom that are left out
 */
export function lineProfile(
  page: usize,
  width: i32,
  height: i32,
  x0: i32,
  strip: i32,
  reach: i32,
  runs: usize,
  count: i32,
  margin: i32,
  profile: usize,
): void {
  const far = <usize>(reach * width);
  for (let y = margin; y < height - margin; y++) {
    let pairs = i16x8.splat(0);
    let at = page + <usize>(y * width + x0);
    for (let run = runs, end = runs + ((<usize>count) << 3); run < end; run += 8) {
      const columns = load<i32>(run);
      const thin = thinAt(at + <usize>(load<i32>(run, 4) * width), far);
      pairs = i16x8.add(pairs, i16x8.extadd_pairwise_i8x16_u(firstOf(thin, columns)));
      at += <usize>columns;
    }
    store<f32>(profile + ((<usize>y) << 2), <f32>sumOf(pairs) / <f32>strip);
  }
}
