/** Convolutions. Tensors lie row by row, each row column by column with all channels of a place beside each other. */
import { firstOf } from './page';
/**
 * One layer. Four channels of the output are reckoned at once, for four columns: what is read of the input and of the
 * weights serves several sums.
 * @param input its rows have `width` places, zeros at their sides among them, of `stride` channels each
 * @param weights four channels after four: [high][wide][from][4]
 * @param to channels of the output, a multiple of four
 * @param pad zeros at each side of the output's rows
 * @param cut negative values become 0
 */
export function convolve(
  input: usize,
  width: i32,
  stride: i32,
  from: i32,
  high: i32,
  wide: i32,
  down: i32,
  across: i32,
  spread: i32,
  weights: usize,
  bias: usize,
  output: usize,
  rows: i32,
  columns: i32,
  to: i32,
  pad: i32,
  cut: bool,
): void {
  const place = (<usize>stride) << 2;
  const next = <usize>across * place;
  const row = <usize>width * place;
  const kernel = (<usize>(high * wide * from)) << 4;
  const least = cut ? f32x4.splat(0) : f32x4.splat(-Infinity);
  const outPlace = (<usize>to) << 2;
  const outRow = <usize>(columns + 2 * pad) * outPlace;
  memory.fill(output, 0, <usize>rows * outRow);
  for (let y = 0; y < rows; y++)
    for (let group = 0; group < to; group += 4) {
      const start = v128.load(bias + ((<usize>group) << 2));
      const first = weights + ((<usize>group) >> 2) * kernel;
      let out = output + <usize>y * outRow + <usize>pad * outPlace + ((<usize>group) << 2);
      let x = 0;
      for (; x + 4 <= columns; x += 4) {
        let a = start;
        let b = start;
        let c = start;
        let d = start;
        let w = first;
        for (let k = 0; k < high; k++)
          for (let tap = 0; tap < wide; tap++) {
            let i = input + <usize>(y * down + k) * row + <usize>x * next + <usize>(tap * spread) * place;
            for (const end = i + ((<usize>from) << 2); i < end; i += 4, w += 16) {
              const weight = v128.load(w);
              a = f32x4.add(a, f32x4.mul(weight, v128.load32_splat(i)));
              b = f32x4.add(b, f32x4.mul(weight, v128.load32_splat(i + next)));
              c = f32x4.add(c, f32x4.mul(weight, v128.load32_splat(i + 2 * next)));
              d = f32x4.add(d, f32x4.mul(weight, v128.load32_splat(i + 3 * next)));
            }
          }
        v128.store(out, f32x4.max(a, least));
        v128.store(out + outPlace, f32x4.max(b, least));
        v128.store(out + 2 * outPlace, f32x4.max(c, least));
        v128.store(out + 3 * outPlace, f32x4.max(d, least));
        out += 4 * outPlace;
      }
      for (; x < columns; x++) {
        let a = start;
        let w = first;
        for (let k = 0; k < high; k++)
          for (let tap = 0; tap < wide; tap++) {
            let i = input + <usize>(y * down + k) * row + <usize>x * next + <usize>(tap * spread) * place;
            for (const end = i + ((<usize>from) << 2); i < end; i += 4, w += 16)
              a = f32x4.add(a, f32x4.mul(v128.load(w), v128.load32_splat(i)));
          }
        v128.store(out, f32x4.max(a, least));
        out += outPlace;
      }
    }
}

/** Sum of so many bytes; behind them there is room for a whole vector. */
export function sum(bytes: usize, count: i32): f64 {
  let all: f64 = 0;
  for (let from = bytes, end = bytes + <usize>count; from < end; from += BLOCK) {
    let sums = i32x4.splat(0);
    for (let i = from, stop = min(end, from + BLOCK); i < stop; i += 16)
      sums = i32x4.add(
        sums,
        i32x4.extadd_pairwise_i16x8_u(i16x8.extadd_pairwise_i8x16_u(firstOf(v128.load(i), <i32>(stop - i)))),
      );
    all += wholeOf(sums);
  }
  return all;
}

/** Sum of the squares of so many bytes. */
export function squares(bytes: usize, count: i32): f64 {
  let all: f64 = 0;
  for (let from = bytes, end = bytes + <usize>count; from < end; from += BLOCK) {
    let sums = i32x4.splat(0);
    for (let i = from, stop = min(end, from + BLOCK); i < stop; i += 16) {
      const some = firstOf(v128.load(i), <i32>(stop - i));
      const low = i32x4.extadd_pairwise_i16x8_u(i16x8.extmul_low_i8x16_u(some, some));
      const high = i32x4.extadd_pairwise_i16x8_u(i16x8.extmul_high_i8x16_u(some, some));
      sums = i32x4.add(sums, i32x4.add(low, high));
    }
    all += wholeOf(sums);
  }
  return all;
}

/** So many bytes have squares whose sum, in four words, needs no more than their 31 bits. */
const BLOCK = 65536;

/** Sum of the four words of a vector. */
function wholeOf(words: v128): f64 {
  return (
    <f64>i32x4.extract_lane(words, 0) +
    <f64>i32x4.extract_lane(words, 1) +
    <f64>i32x4.extract_lane(words, 2) +
    <f64>i32x4.extract_lane(words, 3)
  );
}

/** Bytes as a net's input of one channel: `mean` becomes 0, and a difference of one `scale`. */
export function normalised(
  bytes: usize,
  rows: i32,
  columns: i32,
  pad: i32,
  mean: f32,
  scale: f32,
  output: usize,
): void {
  memory.fill(output, 0, (<usize>(rows * (columns + 2 * pad))) << 2);
  for (let y = 0; y < rows; y++) {
    let out = output + ((<usize>(y * (columns + 2 * pad) + pad)) << 2);
    for (const end = bytes + <usize>columns; bytes < end; bytes++, out += 4)
      store<f32>(out, (<f32>load<u8>(bytes) - mean) * scale);
  }
}
