/** Level lines over a staff. */

/** Rows 1 to before `rows` of a picture, every pixel the mean of the nine around it; the columns at its sides stay. */
export function softened(picture: usize, width: i32, rows: i32, out: usize): void {
  for (let v = 1; v < rows; v++) {
    const row = <usize>(v * width);
    let u = 1;
    for (; u + 8 <= width - 1; u += 8) {
      const at = picture + row + <usize>u;
      const sum = i16x8.add(i16x8.add(threeOf(at - 1, width), threeOf(at, width)), threeOf(at + 1, width));
      // A ninth, rounded down: exact for nine bytes.
      const ninth = i16x8.splat(7282);
      const low = i32x4.shr_u(i32x4.extmul_low_i16x8_u(sum, ninth), 16);
      const high = i32x4.shr_u(i32x4.extmul_high_i16x8_u(sum, ninth), 16);
      const words = i16x8.narrow_i32x4_u(low, high);
      v128.store64_lane(out + row + <usize>u, i8x16.narrow_i16x8_u(words, words), 0);
    }
    for (; u < width - 1; u++) {
      let sum = 0;
      for (let at = picture + row + <usize>u - 1, end = at + 3; at < end; at++)
        sum += <i32>load<u8>(at - <usize>width) + <i32>load<u8>(at) + <i32>load<u8>(at + <usize>width);
      store<u8>(out + row + <usize>u, <u8>(sum / 9));
    }
  }
}

/** Eight pixels added to those above and below them. */
function threeOf(at: usize, width: i32): v128 {
  const above = v128.load8x8_u(at - <usize>width);
  const below = v128.load8x8_u(at + <usize>width);
  return i16x8.add(i16x8.add(above, below), v128.load8x8_u(at));
}

/**
 * What is level in rows of a picture: smeared along the row, less the darker of what is above and below.
 * @param half pixels are smeared so far
 * @param far so many rows above and below
 * @param least what is paler is none
 * @param smeared room for all rows, with `far` rows before and behind them
 * @param found room for all rows, with 2 · `half` bytes before and behind them
 */
export function ridges(
  picture: usize,
  width: i32,
  rows: i32,
  half: i32,
  far: i32,
  least: i32,
  smeared: usize,
  found: usize,
  out: usize,
): void {
  const count = <usize>(rows * width);
  const away = <usize>(far * width);
  const window = 2 * half + 1;
  const share = <f32>1 / <f32>window;
  memory.fill(smeared, 0, count + 2 * away);
  smeared += away;
  for (let v = 0; v < rows; v++) {
    const row = picture + <usize>(v * width);
    const into = smeared + <usize>(v * width);
    let sum = 0;
    for (let u = 0; u < min(half, width); u++) sum += <i32>load<u8>(row + <usize>u);
    for (let u = 0; u < width; u++) {
      if (u + half < width) sum += <i32>load<u8>(row + <usize>(u + half));
      if (u - half - 1 >= 0) sum -= <i32>load<u8>(row + <usize>(u - half - 1));
      // Half of one more, so that whole numbers do not fall below themselves.
      if (sum > 0) store<u8>(into + <usize>u, <u8>((<f32>sum + 0.5) * share));
    }
  }
  const reach = <usize>(2 * half);
  memory.fill(found, 0, count + 2 * reach + 16);
  found += reach;
  for (let i: usize = 0; i < count; i += 16) {
    const beside = i8x16.max_u(v128.load(smeared + i - away), v128.load(smeared + i + away));
    v128.store(found + i, i8x16.sub_sat_u(v128.load(smeared + i), beside));
  }
  // The last vector may have gone beyond the rows.
  memory.fill(found + count, 0, 16);
  memory.fill(out, 0, count);
  const pale = i8x16.splat(<i8>least);
  for (let begin: usize = 0; begin < count; begin += 16) {
    if (!v128.any_true(i8x16.gt_u(v128.load(found + begin), pale))) continue;
    for (let i = begin; i < min(count, begin + 16); i++) {
      const value = <i32>load<u8>(found + i);
      if (value <= least) continue;
      // A dark line is smeared beyond its ends: what is less than half as dark as its neighbourhood is none of it.
      if (!hasDarker(found + i - reach, found + i + reach, min(255, 2 * value)))
        store<u8>(out + i, <u8>value);
    }
  }
}

/** Whether any byte from one to another is more than `most`; they are at least 16. */
function hasDarker(first: usize, last: usize, most: i32): bool {
  const bound = i8x16.splat(<i8>most);
  for (let i = first; i + 15 < last; i += 16) if (v128.any_true(i8x16.gt_u(v128.load(i), bound))) return true;
  return v128.any_true(i8x16.gt_u(v128.load(last - 15), bound));
}
