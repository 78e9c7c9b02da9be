/**
 * Small grey pictures as they are kept: six levels of grey, some 1.6 KB for a bar.
 *
 * Pixels are written in runs, column by column, a sign of `SIGNS` for each run by its place there: 0–15 what stands in
 * the column before, 1–16 times, and 16–23 the same 32, 64, 128 … times; 24–53 the levels 1 to 5, each 1–6 times;
 * 54–59 paper, 1–6 times, and 60–63 the same 12, 24, 48 and 96 times. Before the first column there is paper.
 */
import { SIGNS } from '../base64.ts';
import { kernels, lent } from '../kernels/kernels.ts';
import type { PackedGrey } from '../types.ts';
import type { Grey } from './grey.ts';

/** Between two levels that are kept, of 15. */
const STEP = 3;

const codes = Uint8Array.from(SIGNS, (sign) => sign.charCodeAt(0));
/** So many letters are made at once: engines bound how many arguments there may be. */
const AT_ONCE = 4096;

export function pack({ width, height, data }: Grey): PackedGrey {
  const { at, bytes } = lent(data.length, data.length);
  const [grey, out] = at;
  bytes.set(data, grey);
  return packed(grey, width, height, out);
}

/** The same of a picture in the kernels' memory, which is lost; `out` has room for as much. */
export function packed(grey: number, width: number, height: number, out: number): PackedGrey {
  const { bytes } = lent();
  const end = out + kernels().packed(grey, width, height, out);
  for (let i = out; i < end; i++) bytes[i] = codes[bytes[i]!]!;
  let text = '';
  for (let i = out; i < end; i += AT_ONCE) {
    const some: ArrayLike<number> = bytes.subarray(i, Math.min(end, i + AT_ONCE));
    text += String.fromCharCode.apply(null, some as number[]);
  }
  return { width, height, text };
}

/** What a sign stands for: a level, or null for what stands in the column before; and how many pixels. */
const meant = Array.from(SIGNS, (_, sign): readonly [level: number | null, count: number] => {
  if (sign < 16) return [null, sign + 1];
  if (sign < 24) return [null, 32 << (sign - 16)];
  if (sign < 54) return [Math.floor((sign - 18) / 6), (sign % 6) + 1];
  return [0, sign < 60 ? sign - 53 : 12 << (sign - 60)];
});

const places = new Map(Array.from(SIGNS, (sign, place) => [sign, place]));

/** Throws for text that `pack` has not written. */
export function unpack({ width, height, text }: PackedGrey): Grey {
  const data = new Uint8Array(width * height);
  let at = 0;
  for (const sign of text) {
    const [level, count] = meant[places.get(sign) ?? -1]!;
    const end = at + count;
    if (end > data.length) throw new Error('more pixels than the picture has');
    if (level !== null) data.fill(level * STEP, at, end);
    else for (let i = Math.max(at, height); i < end; i++) data[i] = data[i - height]!;
    at = end;
  }
  if (at < data.length) throw new Error('fewer pixels than the picture has');
  return { width, height, data };
}
