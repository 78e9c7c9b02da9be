/** The kernels against the same in plain loops, over pixels and weights by chance. */
import { expect, test } from 'vitest';
import { pack, unpack } from '../../../src/core/find/alike/pack.ts';
import { held, kernels, lent, VECTOR } from '../../../src/core/find/kernels/kernels.ts';
import { darknessOf } from '../../../src/core/find/pixels/darkness.ts';
import { METER } from '../../../src/core/find/pixels/meter-shapes.ts';
import meterWeights from '../../../src/core/find/pixels/meter-weights.json' with { type: 'json' };
import { padOf, saidAlong } from '../../../src/core/find/pixels/net.ts';
import { lumaOf } from '../../../src/core/find/pixels/picture.ts';
import { likeness, lineProfiles, plainProfiles } from '../../../src/core/find/pixels/profiles.ts';
import { SHAPES } from '../../../src/core/find/pixels/shapes.ts';
import { SIGN } from '../../../src/core/find/pixels/sign-shapes.ts';
import signWeights from '../../../src/core/find/pixels/sign-weights.json' with { type: 'json' };
import { blobsOf } from '../../../src/core/find/pixels/things.ts';
import { unpacked } from '../../../src/core/find/pixels/weights.ts';
import weights from '../../../src/core/find/pixels/weights.json' with { type: 'json' };
import { inputOf, outputsOf } from '../../corpus/scans/plain-net.ts';
import { Random } from '../../corpus/tunes/random.ts';

const bytesBy = (random: Random, count: number, most = 256) =>
  Uint8Array.from({ length: count }, () => random.below(most));

test.each([
  ['bar lines', weights, SHAPES, 48, 501],
  ['meters', meterWeights, METER.shapes, 48, 108],
  ['signs', signWeights, SIGN.shapes, 24, 72],
  ['bar lines on a short staff', weights, SHAPES, 48, 13],
] as const)('the net of %s says the same', (_, packed, shapes, rows, columns) => {
  const net = unpacked(packed, shapes);
  const strip = { rows, columns, data: bytesBy(new Random(7), rows * columns) };
  const plain = outputsOf(inputOf(strip, padOf(shapes[0]!)), net).at(-1)!;
  const said = saidAlong(strip, net);
  expect([said.channels, said.columns, plain.rows]).toEqual([plain.channels, plain.columns, 1]);
  const most = plain.data.reduce((a, b) => Math.max(a, Math.abs(b)), 0);
  expect(most).toBeGreaterThan(1);
  plain.data.forEach((value, i) => expect(Math.abs(said.data[i]! - value)).toBeLessThan(1e-5 * most));
});

test('colours become grey by the weights of luma', () => {
  const count = 1003;
  const colours = bytesBy(new Random(1), 3 * count);
  colours.fill(255, 300, 600);
  const { at, bytes } = lent(3 * count, count);
  bytes.set(colours, at[0]);
  kernels().greyOfRgb(at[0], at[1], count);
  for (let i = 0; i < count; i++)
    expect(bytes[at[1] + i]).toBe(lumaOf(colours[3 * i]!, colours[3 * i + 1]!, colours[3 * i + 2]!));
});

test('ink is what is missing of the paper, whatever its shade, and full where it is darkest', () => {
  const [width, height] = [421, 300];
  const random = new Random(2);
  const isInk = Array.from({ length: width * height }, () => random.chance(0.1));
  // The paper darkens to the right, from 240 to 160.
  const paperAt = (i: number) => 240 - (80 * (i % width)) / width;
  const data = Uint8Array.from(isInk, (ink, i) => Math.round(paperAt(i) * (ink ? 0.25 : 1)));
  const page = darknessOf({ width, height, data })!;
  const inside = isInk.flatMap((ink, i) => (i % width > 32 && i % width < width - 32 ? [{ ink, i }] : []));
  const { bytes } = lent();
  const seen = bytes.slice(page.ink, page.ink + width * height);
  const of = (wanted: boolean) => inside.flatMap(({ ink, i }) => (ink === wanted ? [seen[i]!] : []));
  expect(Math.min(...of(true))).toBeGreaterThan(235);
  expect(Math.max(...of(false))).toBeLessThan(15);
  const [across, tile] = [Math.ceil(width / 16), 16];
  const most = new Uint8Array(across * Math.ceil(height / tile));
  seen.forEach((value, i) => {
    const at = Math.floor(Math.floor(i / width) / tile) * across + Math.floor((i % width) / tile);
    most[at] = Math.max(most[at]!, value);
  });
  expect(bytes.slice(page.tiles, page.tiles + most.length)).toEqual(most);
});

test('profiles are means of rows, plain and of what is thin along a slope', () => {
  const [width, height, strip, reach, slope] = [203, 90, 67, 4, 0.06];
  const data = bytesBy(new Random(3), width * height);
  const { at: places, bytes } = held(data.length);
  bytes.set(data, places[0]);
  const page = { width, height, ink: places[0], tiles: 0 };
  const at = (x: number, y: number) => data[y * width + x]!;
  const columns = Array.from({ length: strip }, (_, x) => x);
  const mean = (of: (x: number) => number) => Math.fround(columns.reduce((sum, x) => sum + of(x), 0) / strip);
  const plain = plainProfiles(page, strip);
  const lines = lineProfiles(page, strip, reach, slope);
  expect([plain.rows.length, lines.rows.length]).toEqual([3, 3]);
  for (let s = 0; s < 3; s++)
    for (let y = 0; y < height; y++) {
      expect(plain.rows[s]![y]).toBe(mean((x) => at(s * strip + x, y)));
      const margin = reach + 2;
      const thin = mean((x) => {
        const v = y + Math.round(slope * (x + 0.5 - strip / 2));
        const u = s * strip + x;
        return Math.max(0, at(u, v) - Math.max(at(u, v - reach), at(u, v + reach)));
      });
      expect(lines.rows[s]![y]).toBe(y < margin || y >= height - margin ? 0 : thin);
    }
});

test('a page of lines is most like itself one distance of them further down', () => {
  const row = Float32Array.from({ length: 301 }, (_, y) => (y % 11 === 3 ? 200 : 5));
  const found = likeness({ strip: 20, rows: [row] }, 30);
  expect(found[0]).toBe(1);
  expect(found.subarray(1).indexOf(Math.max(...found.subarray(1))) + 1).toBe(11);
});

test('pixels over a staff become the mean of nine, rounded down', () => {
  const [width, rows] = [131, 20];
  const data = bytesBy(new Random(4), width * (rows + 1));
  const { at, bytes } = lent(data.length, data.length);
  bytes.set(data, at[0]);
  bytes.set(data, at[1]);
  kernels().softened(at[0], width, rows, at[1]);
  const nine = [-1, 0, 1].flatMap((down) => [-1, 0, 1].map((right) => down * width + right));
  for (let i = 0; i < data.length; i++) {
    const [u, v] = [i % width, Math.floor(i / width)];
    const isEdge = u === 0 || u === width - 1 || v === 0 || v >= rows;
    const wanted = isEdge ? data[i]! : Math.floor(nine.reduce((sum, k) => sum + data[i + k]!, 0) / 9);
    expect(bytes[at[1] + i]).toBe(wanted);
  }
});

test('of a picture stay the parts that are level and darker than what is above and below', () => {
  const [width, rows, half, far, least] = [149, 30, 7, 4, 22];
  const data = bytesBy(new Random(5), width * rows, 60);
  // A thin line, and a thick one, which is none.
  data.fill(220, 12 * width + 20, 12 * width + 120);
  for (let v = 20; v < 27; v++) data.fill(220, v * width + 20, v * width + 120);
  const count = width * rows;
  const { at, bytes } = lent(count, count + 2 * far * width, count + 4 * half + VECTOR, count);
  bytes.set(data, at[0]);
  kernels().ridges(at[0], width, rows, half, far, least, at[1], at[2], at[3]);
  const smeared = Array.from(data, (_, i) => {
    const [u, row] = [i % width, i - (i % width)];
    let sum = 0;
    for (let k = Math.max(0, u - half); k <= Math.min(width - 1, u + half); k++) sum += data[row + k]!;
    return Math.floor(sum / (2 * half + 1));
  });
  const beside = (i: number) => Math.max(smeared[i - far * width] ?? 0, smeared[i + far * width] ?? 0);
  const ridge = smeared.map((value, i) => Math.max(0, value - beside(i)));
  const wanted = ridge.map((value, i) => {
    const most = Math.max(...ridge.slice(Math.max(0, i - 2 * half), i + 2 * half + 1));
    return value > least && most <= 2 * value ? value : 0;
  });
  expect(wanted.some((value) => value > 0)).toBe(true);
  expect([...bytes.subarray(at[3], at[3] + count)]).toEqual(wanted);
});

test('ink that hangs together is boxed, by its first pixels', () => {
  const [width, height] = [61, 47];
  const random = new Random(6);
  const ink = Uint8Array.from({ length: width * height }, () => (random.chance(0.3) ? 1 : 0));
  ink.fill(0, 20 * width, 24 * width);
  const left = ink.slice();
  const wanted: object[] = [];
  const walk = (start: number) => {
    const box = { x0: width, x1: 0, y0: height, y1: 0 };
    const open = [start];
    left[start] = 0;
    for (let at = open.pop(); at !== undefined; at = open.pop()) {
      const [x, y] = [at % width, Math.floor(at / width)];
      box.x0 = Math.min(box.x0, x);
      box.x1 = Math.max(box.x1, x + 1);
      box.y0 = Math.min(box.y0, y);
      box.y1 = Math.max(box.y1, y + 1);
      for (let v = Math.max(0, y - 1); v <= Math.min(height - 1, y + 1); v++)
        for (let u = Math.max(0, x - 1); u <= Math.min(width - 1, x + 1); u++)
          if (left[v * width + u]) {
            left[v * width + u] = 0;
            open.push(v * width + u);
          }
    }
    return box;
  };
  for (let i = 0; i < left.length; i++) if (left[i]) wanted.push(walk(i));
  expect(wanted.length).toBeGreaterThan(20);
  expect(blobsOf(ink, width, height)).toEqual(wanted);
});

test.each([
  ['noise', (random: Random) => random.below(16)],
  ['paper with specks', (random: Random) => (random.chance(0.001) ? 15 : 0)],
  ['ink', () => 15],
] as const)('a grey picture of %s is kept in six levels', (_, of) => {
  const random = new Random(8);
  const [width, height] = [173, 71];
  const data = Uint8Array.from({ length: width * height }, () => of(random));
  const kept = unpack(pack({ width, height, data }));
  expect([kept.width, kept.height]).toEqual([width, height]);
  // Every third level; the palest two become paper.
  expect(kept.data).toEqual(data.map((level) => (level < 3 ? 0 : Math.floor((level + 1) / 3) * 3)));
});

test('text that is no picture is refused', () => {
  const { text, ...size } = pack({ width: 9, height: 9, data: new Uint8Array(81).fill(9) });
  for (const wrong of [text.slice(1), `${text}A`, `${text.slice(0, -1)}!`])
    expect(() => unpack({ ...size, text: wrong })).toThrow();
});
