/** Prints a page and scans it: a little crooked, soft, speckled, black and white, and nothing but an image. */
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { PDFDocument } from 'pdf-lib';
import { PNG } from 'pngjs';
import { standardise } from './pages.mjs';

const dpi = 170;
const degrees = 0.6;

/** mulberry32 (T. Ettinger, public domain): the same speckles every time. */
function chance(seed) {
  return () => {
    seed = (seed + 0x6d2b79f5) | 0;
    let t = Math.imul(seed ^ (seed >>> 15), 1 | seed);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
}

function crooked(page) {
  const { width, height } = page;
  const grey = (x, y) => (x < 0 || y < 0 || x >= width || y >= height ? 255 : page.data[4 * (y * width + x)]);
  const [sin, cos] = [Math.sin((degrees * Math.PI) / 180), Math.cos((degrees * Math.PI) / 180)];
  const random = chance(7);
  const out = new PNG({ width, height, colorType: 0, inputColorType: 0, inputHasAlpha: false });
  out.data = Buffer.alloc(width * height);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const [dx, dy] = [x - width / 2, y - height / 2];
      const [u, v] = [dx * cos + dy * sin + width / 2, -dx * sin + dy * cos + height / 2];
      const [i, j] = [Math.floor(u), Math.floor(v)];
      const [a, b] = [u - i, v - j];
      const soft =
        (grey(i, j) * (1 - a) + grey(i + 1, j) * a) * (1 - b) +
        (grey(i, j + 1) * (1 - a) + grey(i + 1, j + 1) * a) * b;
      const speck = random() < 0.0006;
      out.data[y * width + x] = speck || soft + (random() - 0.5) * 90 < 150 ? 0 : 255;
    }
  return PNG.sync.write(out, { colorType: 0, inputColorType: 0, inputHasAlpha: false });
}

export async function scan(file, work) {
  const page = join(work, 'scan');
  execFileSync('pdftoppm', ['-r', String(dpi), '-png', '-singlefile', file, page]);
  const pdf = await PDFDocument.create({ updateMetadata: false });
  const image = await pdf.embedPng(crooked(PNG.sync.read(readFileSync(`${page}.png`))));
  const [width, height] = [(image.width * 72) / dpi, (image.height * 72) / dpi];
  pdf.addPage([width, height]).drawImage(image, { x: 0, y: 0, width, height });
  pdf.setTitle('Fog Bell, scanned');
  return { pdf: await standardise(await pdf.save()), degrees };
}
