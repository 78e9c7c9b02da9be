/** Looking for staves: distances of lines, combs of five, lines along a staff, ink between two staves. */
import { firstOf, sumOf, thinAt } from './page';

/** Sum of the products of two rows of floats. */
export function product(a: usize, b: usize, count: i32): f32 {
  let sums = f32x4.splat(0);
  let i = 0;
  for (; i + 4 <= count; i += 4, a += 16, b += 16)
    sums = f32x4.add(sums, f32x4.mul(v128.load(a), v128.load(b)));
  let sum =
    f32x4.extract_lane(sums, 0) +
    f32x4.extract_lane(sums, 1) +
    f32x4.extract_lane(sums, 2) +
    f32x4.extract_lane(sums, 3);
  for (; i < count; i++, a += 4, b += 4) sum += load<f32>(a) * load<f32>(b);
  return sum;
}

/** What a profile has so far from four of its rows, between two rows. */
function between(rows: usize, away: f32): v128 {
  const low = floor(away);
  const at = rows + ((<isize>low) << 2);
  const value = v128.load(at);
  return f32x4.add(value, f32x4.mul(f32x4.sub(v128.load(at, 4), value), f32x4.splat(away - low)));
}

/**
 * How well a comb of five teeth, `space` apart, fits at each row of a profile: into `best` where it fits better than
 * what stands there, and its space into `spaces`.
 * @param faintest rows below this have no third line
 */
export function combs(
  profile: usize,
  length: i32,
  space: f32,
  faintest: f32,
  best: usize,
  spaces: usize,
): void {
  const margin = <i32>ceil(<f32>3 * space) + 1;
  const size = f32x4.splat(space);
  const least = f32x4.splat(faintest);
  for (let y = margin; y < length - margin; y += 4) {
    const away = (<usize>y) << 2;
    const rows = profile + away;
    const middle = v128.load(rows);
    let fits = f32x4.ge(middle, least);
    // Most rows are paper.
    if (!v128.any_true(fits)) continue;
    const a = between(rows, -2 * space);
    const b = between(rows, -space);
    const c = between(rows, space);
    const d = between(rows, 2 * space);
    // Mean of the teeth, the weakest counted twice, less the mean of the gaps.
    const weakest = f32x4.min(f32x4.min(f32x4.min(a, b), f32x4.min(c, d)), middle);
    const teeth = f32x4.add(f32x4.add(f32x4.add(a, b), f32x4.add(c, d)), f32x4.add(middle, weakest));
    const gaps = f32x4.add(
      f32x4.add(between(rows, -1.5 * space), between(rows, -0.5 * space)),
      f32x4.add(between(rows, 0.5 * space), between(rows, 1.5 * space)),
    );
    const score = f32x4.sub(f32x4.div(teeth, f32x4.splat(6)), f32x4.mul(gaps, f32x4.splat(0.25)));
    const before = v128.load(best + away);
    fits = v128.and(fits, f32x4.gt(score, before));
    // The last rows of four may lie in the margin.
    if (y + 4 > length - margin)
      fits = v128.and(
        fits,
        i32x4.lt_s(i32x4.add(i32x4.splat(y), i32x4(0, 1, 2, 3)), i32x4.splat(length - margin)),
      );
    v128.store(best + away, v128.bitselect(score, before, fits));
    v128.store(spaces + away, v128.bitselect(size, v128.load(spaces + away), fits));
  }
}

/**
 * Columns in which a thin line crosses at its height, or a pixel above or below: 1, or else 0.
 * @param centre heights of a staff's middle line at every column of the page, floats; `spaces` of its lines' distance
 * @param line of the staff, −2 to 2 from the top
 * @param reach pixels up and down at which it must have ended
 * @param seen a pixel of it is so much darker than those
 */
export function lineAlong(
  page: usize,
  width: i32,
  height: i32,
  centre: usize,
  spaces: usize,
  line: f32,
  reach: i32,
  seen: i32,
  from: i32,
  to: i32,
  found: usize,
): void {
  const far = <usize>(reach * width);
  for (let x = from; x < to; x++) {
    const at = (<usize>x) << 2;
    const row = <i32>floor(load<f32>(centre + at) + line * load<f32>(spaces + at) + 0.5);
    let is: u8 = 0;
    for (let y = max(reach, row - 1); y <= min(height - reach - 1, row + 1); y++) {
      const i = page + <usize>(y * width + x);
      if (<i32>load<u8>(i) - <i32>max(load<u8>(i - far), load<u8>(i + far)) > seen) is = 1;
    }
    store<u8>(found + <usize>x, is);
  }
}

/**
 * Which of so many rows between two staves have ink, in places of `together` columns from one to before another: 1, or
 * else 0, row after row for each place.
 * @param above heights of the upper staff's last line at every column of the page, floats; `below` of the lower's first
 * @param faint darker pixels are ink
 */
export function inkBetween(
  page: usize,
  width: i32,
  height: i32,
  from: i32,
  to: i32,
  together: i32,
  above: usize,
  below: usize,
  rows: i32,
  faint: u8,
  found: usize,
): void {
  for (let x = from; x < to; x += together, found += <usize>rows) {
    const end = min(width, x + together);
    const first = (<usize>x) << 2;
    const last = (<usize>(end - 1)) << 2;
    for (let row = 1; row < rows; row++) {
      const share = <f32>row / <f32>rows;
      const y0 = wayTo(load<f32>(above + first), load<f32>(below + first), share);
      const y1 = wayTo(load<f32>(above + last), load<f32>(below + last), share);
      // A row of the straightened picture lies between two of the page, and curled paper moves it a little.
      const bottom = min(height - 1, <i32>floor(max(y0, y1)) + 2);
      let is: u8 = 0;
      for (let y = max(0, <i32>floor(min(y0, y1)) - 1); is === 0 && y <= bottom; y++)
        for (let i = page + <usize>(y * width + x), stop = i + <usize>(end - x); i < stop; i += 16)
          if (v128.any_true(i8x16.gt_u(firstOf(v128.load(i), <i32>(stop - i)), i8x16.splat(<i8>faint))))
            is = 1;
      store<u8>(found + <usize>row, is);
    }
  }
}

function wayTo(from: f32, to: f32, share: f32): f32 {
  return from + (to - from) * share;
}

/**
 * The mean of what is thin in each of `rows` rows of the page, between two columns: into floats at `found`.
 * @param reach pixels up and down at which it must have ended
 */
export function thinRows(
  page: usize,
  width: i32,
  height: i32,
  from: i32,
  to: i32,
  first: i32,
  rows: i32,
  reach: i32,
  found: usize,
): void {
  const far = <usize>(reach * width);
  for (let y = first; y < first + rows; y++, found += 4) {
    if (y < reach || y + reach >= height) {
      store<f32>(found, 0);
      continue;
    }
    let pairs = i16x8.splat(0);
    for (let i = page + <usize>(y * width + from), end = i + <usize>(to - from); i < end; i += 16)
      pairs = i16x8.add(pairs, i16x8.extadd_pairwise_i8x16_u(firstOf(thinAt(i, far), <i32>(end - i))));
    store<f32>(found, <f32>sumOf(pairs) / <f32>(to - from));
  }
}

/**
 * The longest run of ink in each column between two rows: its first row, its last and how many of its pixels are ink,
 * words for all columns after each other at `best`.
 * @param ink darker pixels are ink
 * @param gap up to so many rows may be missing in a run
 * @param open room for as much: the runs that are walked
 */
export function longestRuns(
  picture: usize,
  width: i32,
  first: i32,
  last: i32,
  ink: u8,
  gap: f64,
  open: usize,
  best: usize,
): void {
  const size = (<usize>width) << 2;
  memory.fill(open, 0xff, 3 * size);
  memory.fill(best, 0, 3 * size);
  for (let v = first; v <= last; v++)
    for (let u: usize = 0, i = picture + <usize>(v * width); u < size; u += 4, i++) {
      // Most of a picture is paper.
      if (u + 64 <= size && !v128.any_true(i8x16.gt_u(v128.load(i), i8x16.splat(<i8>ink)))) {
        u += 60;
        i += 15;
        continue;
      }
      if (load<u8>(i) <= ink) continue;
      const from = open + u;
      const to = from + size;
      const count = to + size;
      if (load<i32>(from) < 0 || <f64>(v - load<i32>(to)) > gap) {
        store<i32>(from, v);
        store<i32>(count, 0);
      }
      store<i32>(to, v);
      store<i32>(count, load<i32>(count) + 1);
      const bestFrom = best + u;
      const bestTo = bestFrom + size;
      if (
        v - load<i32>(from) <= load<i32>(bestTo) - load<i32>(bestFrom) &&
        load<i32>(from) !== load<i32>(bestFrom)
      )
        continue;
      store<i32>(bestFrom, load<i32>(from));
      store<i32>(bestTo, v);
      store<i32>(bestTo + size, load<i32>(count));
    }
}
