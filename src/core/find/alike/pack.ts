/** Small grey pictures as they are kept: six levels of grey, some 1.6 KB for a bar. */
import { deflateSync, inflateSync } from 'fflate';
import type { PackedGrey } from '../types.ts';
import type { Grey } from './grey.ts';

/** Between two levels that are kept, of 15. */
const STEP = 3;
/** What is paler is paper. */
const FAINT = 3;

export function pack({ width, height, data }: Grey): PackedGrey {
  const levels = data.map((value) => (value < FAINT ? 0 : ((value + 1) / STEP) | 0));
  return { width, height, text: textOf(deflateSync(levels, { level: 6, mem: 1 })) };
}

/** Throws for text that `pack` has not written. */
export function unpack({ width, height, text }: PackedGrey): Grey {
  const levels = inflateSync(bytesOf(text), { out: new Uint8Array(width * height) });
  return { width, height, data: levels.map((level) => level * STEP) };
}

/** The base 64 alphabet (RFC 4648, table 1). Neither Node 20 nor the pure part has an encoder of its own. */
const SIGNS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/';

/** Six bits a sign, without the padding at the end. */
function textOf(bytes: Uint8Array): string {
  let text = '';
  for (let i = 0; i < bytes.length; i += 3) {
    const three = (bytes[i]! << 16) | ((bytes[i + 1] ?? 0) << 8) | (bytes[i + 2] ?? 0);
    const signs = Math.min(4, bytes.length - i + 1);
    for (let k = 0; k < signs; k++) text += SIGNS[(three >> (18 - 6 * k)) & 63]!;
  }
  return text;
}

function bytesOf(text: string): Uint8Array {
  const bytes = new Uint8Array(Math.floor((text.length * 3) / 4));
  for (let i = 0, at = 0; i < text.length; i += 4, at += 3) {
    let four = 0;
    for (let k = i; k < i + 4; k++) four = (four << 6) | Math.max(0, SIGNS.indexOf(text[k] ?? 'A'));
    for (let k = 0; k < 3 && at + k < bytes.length; k++) bytes[at + k] = (four >> (16 - 8 * k)) & 255;
  }
  return bytes;
}
