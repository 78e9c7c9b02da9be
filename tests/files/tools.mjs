/** Programs of the system that make what would be long to write: fax coding, JPEG 2000, locks. */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { findProgram } from '../../src/cli/browsers/find.mjs';

export const has = (program) => findProgram([program]) !== null;

/** Runs a program on a file; `args` gets the paths in and out. */
function through(program, input, [from, to], args) {
  const folder = mkdtempSync(join(tmpdir(), 'holdfast-make-'));
  try {
    const [a, b] = [join(folder, `in.${from}`), join(folder, `out.${to}`)];
    writeFileSync(a, input);
    execFileSync(program, args(a, b), { stdio: ['ignore', 'ignore', 'pipe'] });
    return readFileSync(b);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** A one-bit TIFF, not packed; set bits are ink. */
function tiff({ width, height }, data) {
  const tags = [
    [256, 4, width],
    [257, 4, height],
    [258, 3, 1],
    [259, 3, 1],
    [262, 3, 0],
    [273, 4, 8],
    [277, 3, 1],
    [278, 4, height],
    [279, 4, data.length],
  ];
  const head = Buffer.alloc(8);
  head.write('II*\0', 'latin1');
  const even = Buffer.concat([data, Buffer.alloc(data.length % 2)]);
  head.writeUInt32LE(8 + even.length, 4);
  const list = Buffer.alloc(2 + 12 * tags.length + 4);
  list.writeUInt16LE(tags.length, 0);
  tags.forEach(([tag, type, value], i) => {
    list.writeUInt16LE(tag, 2 + 12 * i);
    list.writeUInt16LE(type, 4 + 12 * i);
    list.writeUInt32LE(1, 6 + 12 * i);
    list.writeUInt32LE(value, 10 + 12 * i);
  });
  return Buffer.concat([head, even, list]);
}

/** The one strip of a TIFF. */
function strip(data) {
  const at = data.readUInt32LE(4);
  const value = (tag) => {
    for (let i = 0; i < data.readUInt16LE(at); i++) {
      const entry = at + 2 + 12 * i;
      if (data.readUInt16LE(entry) === tag)
        return data.readUInt16LE(entry + 2) === 3
          ? data.readUInt16LE(entry + 8)
          : data.readUInt32LE(entry + 8);
    }
    throw new Error(`no tag ${tag}`);
  };
  return data.subarray(value(273), value(273) + value(279));
}

/** Fax coding of one-bit rows: `how` is 'g4', 'g3:1d' or 'g3:2d'. */
export const fax = (size, data, how) =>
  strip(
    through('tiffcp', tiff(size, data), ['tif', 'tif'], (a, b) => [
      '-c',
      how,
      '-r',
      String(size.height),
      a,
      b,
    ]),
  );

/** JPEG 2000; `rates` as of opj_compress: none is without loss. Three bytes a pixel when `colour`. */
export const jpx = ({ width, height }, data, { colour = false, args = [] } = {}) =>
  through(
    'opj_compress',
    Buffer.concat([Buffer.from(`${colour ? 'P6' : 'P5'}\n${width} ${height}\n255\n`), data]),
    [colour ? 'ppm' : 'pgm', 'jp2'],
    (a, b) => ['-i', a, '-o', b, ...args],
  );

export const qpdf = (data, ...args) => through('qpdf', data, ['pdf', 'pdf'], (a, b) => [...args, a, b]);

/** Locked with a user password (empty: only the owner's), in `bits` of RC4 or AES. */
export const lock = (data, user, bits, aes) =>
  qpdf(
    data,
    '--allow-weak-crypto',
    '--encrypt',
    user,
    'owner',
    String(bits),
    ...(bits === 128 ? [`--use-aes=${aes ? 'y' : 'n'}`] : []),
    '--',
  );
