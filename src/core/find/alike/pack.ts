/** Small grey pictures as they are kept: six levels of grey, some 1.6 KB for a bar. */
import { deflateSync, inflateSync } from 'fflate';
import { bytesOf, textOf } from '../base64.ts';
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
