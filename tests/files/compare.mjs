/** Compares a drawn page with poppler's drawing of the same page. */
import { execFileSync } from 'node:child_process';
import { PNG } from 'pngjs';

/** Lightness by the weights of ITU-R BT.601, on white. */
function grey({ width, height, data }) {
  const out = new Float32Array(width * height);
  for (let i = 0, j = 0; i < out.length; i++, j += 4) {
    const alpha = data[j + 3] / 255;
    const light = 0.299 * data[j] + 0.587 * data[j + 1] + 0.114 * data[j + 2];
    out[i] = 255 + alpha * (light - 255);
  }
  return { width, height, data: out };
}

/** Mean over a square of `radius` px around each pixel: where an edge falls between pixels is each reader's own. */
function blur({ width, height, data }, radius) {
  const pass = (from, size, step, count, jump) => {
    const to = new Float32Array(from.length);
    for (let line = 0; line < count; line++)
      for (let at = 0; at < size; at++) {
        let [sum, seen] = [0, 0];
        for (let near = Math.max(0, at - radius); near <= Math.min(size - 1, at + radius); near++) {
          sum += from[line * jump + near * step];
          seen++;
        }
        to[line * jump + at * step] = sum / seen;
      }
    return to;
  };
  const across = pass(data, width, 1, height, width);
  return { width, height, data: pass(across, height, width, width, 1) };
}

/** Page 1 as poppler draws it at so many pixels, across and down, to a unit of the page's own. */
export function poppler(file, [across, down], password) {
  const args = ['-f', '1', '-l', '1', '-singlefile', '-png', '-cropbox'];
  const locked = password === undefined ? [] : ['-upw', password];
  const png = execFileSync(
    'pdftoppm',
    [...args, ...locked, '-rx', String(72 * across), '-ry', String(72 * down), file],
    {
      maxBuffer: 2 ** 28,
      stdio: ['ignore', 'pipe', 'ignore'],
    },
  );
  return PNG.sync.read(png);
}

/** As `difference`, the second being moved by so many pixels. */
function apart(a, b, dx, dy) {
  const [width, height] = [Math.min(a.width, b.width), Math.min(a.height, b.height)];
  let [sum, off, ink] = [0, 0, 0];
  for (let y = 1; y < height - 1; y++)
    for (let x = 1; x < width - 1; x++) {
      const [p, q] = [a.data[y * a.width + x], b.data[(y + dy) * b.width + x + dx]];
      sum += Math.abs(p - q);
      if (Math.abs(p - q) > 64) off++;
      if (q < 192) ink++;
    }
  const all = (width - 2) * (height - 2);
  return { mean: sum / all / 255, off: off / all, ink: ink / all };
}

/**
 * How far two drawings are apart after a blur of one pixel: `mean` the mean difference in lightness, 0–1; `off` the
 * share of pixels that differ by more than 64 of 255; `ink` the share of dark pixels in the second. The least over
 * a move by up to one pixel: poppler cuts a crop box at whole pixels.
 */
export function difference(one, other) {
  const [a, b] = [one, other].map((picture) => blur(grey(picture), 1));
  const moves = [-1, 0, 1].flatMap((dy) => [-1, 0, 1].map((dx) => apart(a, b, dx, dy)));
  return moves.reduce((best, each) => (each.mean < best.mean ? each : best));
}

/**
 * Share of each drawing's ink that has ink of the other within `reach` px, the lesser of the two: for letters that
 * come from another font but stand at the same place.
 */
export function overlap(one, other, reach) {
  const [a, b] = [one, other].map((picture) => grey(picture));
  const near = [a, b].map((picture) => blur(picture, reach).data);
  const shares = [
    [a.data, near[1]],
    [b.data, near[0]],
  ].map(([data, around]) => {
    let [ink, met] = [0, 0];
    for (let i = 0; i < Math.min(data.length, around.length); i++)
      if (data[i] < 128) {
        ink++;
        if (around[i] < 254) met++;
      }
    return ink === 0 ? 0 : met / ink;
  });
  return Math.min(...shares);
}
