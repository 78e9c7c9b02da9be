/** A picture made smaller, every pixel the mean of what it covers. */

/**
 * Adds `share` of each of `count` bytes to as many floats, in doubles, rounded once. Behind both there is room for whole
 * vectors.
 */
export function summed(light: usize, count: i32, share: f64, sums: usize): void {
  const by = f64x2.splat(share);
  for (let i = 0; i < count; i += 4, light += 4, sums += 16) {
    const four = i32x4.extend_low_i16x8_u(i16x8.extend_low_i8x16_u(v128.load32_zero(light)));
    const before = v128.load(sums);
    const low = f64x2.add(f64x2.promote_low_f32x4(before), f64x2.mul(by, f64x2.convert_low_i32x4_u(four)));
    const high = f64x2.add(
      f64x2.promote_low_f32x4(v128.shuffle<i32>(before, before, 2, 3, 2, 3)),
      f64x2.mul(by, f64x2.convert_low_i32x4_u(v128.shuffle<i32>(four, four, 2, 3, 2, 3))),
    );
    v128.store(
      sums,
      v128.shuffle<i32>(f32x4.demote_f64x2_zero(low), f32x4.demote_f64x2_zero(high), 0, 1, 4, 5),
    );
  }
}

/**
 * Sums of columns as so many pixels of one row.
 * @param first, last columns that each pixel covers, as words; `head` and `tail` their shares, as floats
 */
export function gathered(
  sums: usize,
  pixels: i32,
  first: usize,
  last: usize,
  head: usize,
  tail: usize,
  scale: f64,
  row: usize,
): void {
  for (let x = 0; x < pixels; x++, first += 4, last += 4, head += 4, tail += 4, row++) {
    let at = sums + ((<usize>load<i32>(first)) << 2);
    const end = sums + ((<usize>load<i32>(last)) << 2);
    let sum = <f64>load<f32>(head) * <f64>load<f32>(at) + <f64>load<f32>(tail) * <f64>load<f32>(end);
    for (at += 4; at < end; at += 4) sum += <f64>load<f32>(at);
    store<u8>(row, <u8>(<i32>(sum * scale + 0.5)));
  }
}
