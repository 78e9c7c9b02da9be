/** A page of music as plain shapes: as operators of a PDF and as pixels, so that both show the same. */

/** Points of A4. */
export const A4 = { width: 595, height: 842 };

/**
 * Systems of four bars with notes. Shapes in points, top left origin: `[x, y, width, height]`, or with a fifth
 * value an ellipse in that rectangle.
 */
export function music({ width, height } = A4, seed = 1) {
  const shapes = [];
  let state = seed;
  const random = () => (state = (state * 48271) % 2147483647) / 2147483647;
  const [left, wide] = [0.1 * width, 0.8 * width];
  const gap = height / 120;
  // A page is not the same upside down or mirrored.
  shapes.push([left, 0.04 * height, 0.35 * width, 0.02 * height]);
  for (let system = 0; system < 6; system++) {
    const top = (0.12 + 0.14 * system) * height;
    for (let line = 0; line < 5; line++) shapes.push([left, top + line * gap, wide, 0.12 * gap]);
    for (let bar = 0; bar <= 4; bar++) shapes.push([left + (bar * wide) / 4, top, 0.15 * gap, 4.12 * gap]);
    for (let note = 0; note < 16; note++) {
      const x = left + ((note + 0.35) * wide) / 16;
      const y = top + (Math.floor(random() * 9) / 2 - 0.5) * gap;
      shapes.push([x, y, 1.3 * gap, gap, true], [x + 1.2 * gap, y - 2.8 * gap, 0.14 * gap, 3.3 * gap]);
    }
  }
  return shapes;
}

const n = (value) => value.toFixed(3);

/** As content of a page of that height. */
export const operators = (shapes, { height } = A4) =>
  shapes
    .map(([x, y, w, h, round]) => {
      if (!round) return `${n(x)} ${n(height - y - h)} ${n(w)} ${n(h)} re f`;
      const [cx, cy, rx, ry] = [x + w / 2, height - y - h / 2, w / 2, h / 2];
      // A quarter of an ellipse as one curve.
      const [kx, ky] = [0.5523 * rx, 0.5523 * ry];
      const curve = (...points) => `${points.map(n).join(' ')} c`;
      return [
        `${n(cx + rx)} ${n(cy)} m`,
        curve(cx + rx, cy + ky, cx + kx, cy + ry, cx, cy + ry),
        curve(cx - kx, cy + ry, cx - rx, cy + ky, cx - rx, cy),
        curve(cx - rx, cy - ky, cx - kx, cy - ry, cx, cy - ry),
        curve(cx + kx, cy - ry, cx + rx, cy - ky, cx + rx, cy),
        'f',
      ].join(' ');
    })
    .join('\n');

/** As pixels, one byte each: 255 paper, 0 ink. */
export function pixels(shapes, perInch, { width, height } = A4) {
  const scale = perInch / 72;
  const [wide, high] = [Math.round(width * scale), Math.round(height * scale)];
  const data = Buffer.alloc(wide * high, 255);
  for (const [x, y, w, h, round] of shapes) {
    const [x0, y0] = [Math.round(x * scale), Math.round(y * scale)];
    const [x1, y1] = [
      Math.max(x0 + 1, Math.round((x + w) * scale)),
      Math.max(y0 + 1, Math.round((y + h) * scale)),
    ];
    for (let row = y0; row < y1; row++) {
      let [from, to] = [x0, x1];
      if (round) {
        const part = Math.sqrt(Math.max(0, 1 - ((2 * (row + 0.5 - y0)) / (y1 - y0) - 1) ** 2));
        const middle = (x0 + x1) / 2;
        from = Math.round(middle - (part * (x1 - x0)) / 2);
        to = Math.round(middle + (part * (x1 - x0)) / 2);
      }
      data.fill(0, row * wide + from, row * wide + to);
    }
  }
  return { width: wide, height: high, data };
}

/** One bit a pixel, rows padded to bytes; a set bit is ink unless `inkIs` is 0. */
export function bits({ width, height, data }, inkIs = 1) {
  const row = Math.ceil(width / 8);
  const out = Buffer.alloc(row * height);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++)
      if (data[y * width + x] < 128 === (inkIs === 1)) out[y * row + (x >> 3)] |= 0x80 >> (x & 7);
  return out;
}
