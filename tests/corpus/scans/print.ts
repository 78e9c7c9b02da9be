/** Prints pages of a PDF as grey pixels, with poppler's pdftoppm: nothing of ours is in it. */
import { execFileSync } from 'node:child_process';
import type { Picture } from '../../../src/core/find/pixels/index.ts';

/** Page `index` (from 0) of a file. */
export function print(file: string, index: number, dpi: number): Picture {
  const page = String(index + 1);
  const bytes = execFileSync('pdftoppm', ['-gray', '-r', String(dpi), '-f', page, '-l', page, file], {
    maxBuffer: 1 << 28,
  });
  return pgm(bytes);
}

/** Reads a binary portable grey map (the netpbm manual, pgm(5)) of 8 bits. */
export function pgm(bytes: Uint8Array): Picture {
  const head = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(Buffer.from(bytes.subarray(0, 64)).toString('latin1'));
  if (!head) throw new Error('not a grey map of 8 bits');
  const [width, height] = [Number(head[1]), Number(head[2])];
  return {
    width,
    height,
    data: new Uint8Array(bytes.subarray(head[0].length, head[0].length + width * height)),
  };
}
