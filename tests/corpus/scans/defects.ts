/** What happens to a page on its way through a copier, a scanner or a telephone: seeded, with the way of every point. */
import { createCanvas, Image } from '@napi-rs/canvas';
import type { Picture } from '../../../src/core/find/pixels/index.ts';
import { Random } from '../tunes/random.ts';

export type Point = readonly [x: number, y: number];

/** A page that has suffered, and where a point of the sound page has come to; both in pixels. */
export interface Suffered {
  readonly picture: Picture;
  readonly to: (point: Point) => Point;
}

/** A bend of the page: where points go and where they come from. */
interface Bend {
  readonly to: (point: Point) => Point;
  readonly from: (point: Point) => Point;
}

type Spoil = (picture: Picture, random: Random, dpi: number) => Picture;

const between = (random: Random, low: number, high: number) => low + (high - low) * random.next();
const sign = (random: Random) => (random.chance(0.5) ? 1 : -1);
/** Normally distributed, mean 0, deviation 1 (Box and Muller 1958). */
const normal = (random: Random) =>
  Math.sqrt(-2 * Math.log(1 - random.next())) * Math.cos(2 * Math.PI * random.next());

function turned({ width, height }: Picture, degrees: number): Bend {
  const [sin, cos] = [Math.sin((degrees * Math.PI) / 180), Math.cos((degrees * Math.PI) / 180)];
  const turn =
    (s: number) =>
    ([x, y]: Point): Point => {
      const [dx, dy] = [x - width / 2, y - height / 2];
      return [dx * cos - s * dy * sin + width / 2, s * dx * sin + dy * cos + height / 2];
    };
  return { to: turn(1), from: turn(-1) };
}

/** Paper that lies in waves: every column moves up or down. */
function curled({ width, height }: Picture, random: Random): Bend {
  const depth = between(random, 0.004, 0.008) * height * sign(random);
  const waves = between(random, 0.5, 1.1);
  const phase = between(random, 0, 2 * Math.PI);
  const shift = (x: number) => depth * Math.sin((2 * Math.PI * waves * x) / width + phase);
  return { to: ([x, y]) => [x, y + shift(x)], from: ([x, y]) => [x, y - shift(x)] };
}

/** Seen from aside: each corner moves inwards by up to 4 % of the page. */
function aslant({ width, height }: Picture, random: Random): Bend {
  const corners: Point[] = [
    [0, 0],
    [width, 0],
    [width, height],
    [0, height],
  ];
  const moved = corners.map(([x, y]): Point => [
    x + (x === 0 ? 1 : -1) * between(random, 0, 0.04) * width,
    y + (y === 0 ? 1 : -1) * between(random, 0, 0.03) * height,
  ]);
  const forth = homography(corners, moved);
  const back = homography(moved, corners);
  const apply =
    (h: number[]) =>
    ([x, y]: Point): Point => {
      const w = h[6]! * x + h[7]! * y + 1;
      return [(h[0]! * x + h[1]! * y + h[2]!) / w, (h[3]! * x + h[4]! * y + h[5]!) / w];
    };
  return { to: apply(forth), from: apply(back) };
}

/** The eight numbers of the perspective that takes four points to four others, by elimination. */
function homography(from: readonly Point[], to: readonly Point[]): number[] {
  const rows = from.flatMap(([x, y], i) => {
    const [u, v] = to[i]!;
    return [
      [x, y, 1, 0, 0, 0, -u * x, -u * y, u],
      [0, 0, 0, x, y, 1, -v * x, -v * y, v],
    ];
  });
  for (let c = 0; c < 8; c++) {
    const pivot = rows.slice(c).reduce((best, row) => (Math.abs(row[c]!) > Math.abs(best[c]!) ? row : best));
    rows.splice(rows.indexOf(pivot), 1);
    rows.splice(
      c,
      0,
      pivot.map((value) => value / pivot[c]!),
    );
    rows.forEach((row, r) => {
      if (r !== c) rows[r] = row.map((value, k) => value - row[c]! * rows[c]![k]!);
    });
  }
  return rows.map((row) => row[8]!);
}

/** Columns from one place at which a bend is asked to the next; it is straight enough between them. */
const GRID = 8;

function bent(picture: Picture, { from }: Bend): Picture {
  const { width, height, data } = picture;
  const out = new Uint8Array(width * height).fill(255);
  for (let y = 0; y < height; y++) {
    let next = from([0.5, y + 0.5]);
    for (let x = 0; x < width; x += GRID) {
      const [u0, v0] = next;
      next = from([x + GRID + 0.5, y + 0.5]);
      const [du, dv] = [(next[0] - u0) / GRID, (next[1] - v0) / GRID];
      for (let n = 0; n < GRID && x + n < width; n++) {
        const u = u0 + n * du - 0.5;
        const v = v0 + n * dv - 0.5;
        const i = Math.floor(u);
        const j = Math.floor(v);
        if (i < 0 || j < 0 || i >= width - 1 || j >= height - 1) continue;
        const a = u - i;
        const b = v - j;
        const at = j * width + i;
        const upper = data[at]! * (1 - a) + data[at + 1]! * a;
        const lower = data[at + width]! * (1 - a) + data[at + width + 1]! * a;
        out[y * width + x + n] = Math.round(upper * (1 - b) + lower * b);
      }
    }
  }
  return { width, height, data: out };
}

/** Out of focus: a normal spread of so many pixels. */
const blurred = (picture: Picture, sigma: number): Picture => {
  const reach = Math.ceil(2.5 * sigma);
  const weights = Float64Array.from({ length: 2 * reach + 1 }, (_, i) =>
    Math.exp(-((i - reach) ** 2) / (2 * sigma ** 2)),
  );
  const total = weights.reduce((a, b) => a + b);
  const { width, height } = picture;
  const pass = (source: Uint8Array, step: number, size: number, lines: number, stride: number) => {
    const out = new Uint8Array(source.length);
    for (let line = 0; line < lines; line++)
      for (let place = 0; place < size; place++) {
        let sum = 0;
        for (let k = -reach; k <= reach; k++) {
          const at = place + k < 0 ? 0 : place + k >= size ? size - 1 : place + k;
          sum += weights[k + reach]! * source[line * stride + at * step]!;
        }
        out[line * stride + place * step] = Math.round(sum / total);
      }
    return out;
  };
  const across = pass(picture.data, 1, width, height, width);
  return { width, height, data: pass(across, width, height, width, 1) };
};

const clamp = (value: number) => Math.max(0, Math.min(255, Math.round(value)));
const each = (picture: Picture, change: (grey: number, i: number) => number): Picture => ({
  ...picture,
  data: picture.data.map((grey, i) => clamp(change(grey, i))),
});

const soft: Spoil = (picture, random, dpi) => blurred(picture, between(random, 0.005, 0.008) * dpi);
const noisy: Spoil = (picture, random) => {
  const strength = between(random, 12, 24);
  return each(picture, (grey) => 25 + 0.82 * grey + strength * normal(random));
};
const speckled: Spoil = (picture, random) =>
  each(picture, (grey) => (random.chance(0.0008) ? 0 : grey + (random.next() - 0.5) * 90));
const bilevel: Spoil = (picture, random) => {
  const edge = between(random, 140, 185);
  return each(picture, (grey) => (grey < edge ? 0 : 255));
};
const shadowed: Spoil = (picture, random) => {
  const angle = between(random, 0, 2 * Math.PI);
  const { width, height } = picture;
  const dark = between(random, 0.4, 0.6);
  return each(picture, (grey, i) => {
    const [x, y] = [(i % width) / width - 0.5, ((i / width) | 0) / height - 0.5];
    const along = x * Math.cos(angle) + y * Math.sin(angle);
    const light = 1 - dark / (1 + Math.exp(-9 * along));
    return (30 + 0.8 * grey) * light;
  });
};
/** A real JPEG and back. */
const jpeg: Spoil = (picture, random) => {
  const { width, height } = picture;
  const canvas = createCanvas(width, height);
  const context = canvas.getContext('2d');
  const image = context.createImageData(width, height);
  for (let i = 0; i < picture.data.length; i++) {
    image.data.fill(picture.data[i]!, 4 * i, 4 * i + 3);
    image.data[4 * i + 3] = 255;
  }
  context.putImageData(image, 0, 0);
  const again = new Image();
  again.src = canvas.encodeSync('jpeg', Math.round(between(random, 25, 45)));
  context.drawImage(again, 0, 0);
  const { data } = context.getImageData(0, 0, width, height);
  return { width, height, data: picture.data.map((_, i) => data[4 * i]!) };
};

const turn = (picture: Picture, random: Random) => turned(picture, sign(random) * between(random, 0.8, 2));

/** Every defect: bends of the page, then what light and machine do to it. */
const ways: Record<string, { bends: ((picture: Picture, random: Random) => Bend)[]; spoils: Spoil[] }> = {
  sound: { bends: [], spoils: [] },
  turned: { bends: [turn], spoils: [] },
  curled: { bends: [curled], spoils: [] },
  soft: { bends: [], spoils: [soft] },
  noisy: { bends: [], spoils: [noisy] },
  jpeg: { bends: [], spoils: [jpeg] },
  bilevel: { bends: [], spoils: [bilevel] },
  shadowed: { bends: [], spoils: [shadowed] },
  scanned: { bends: [turn], spoils: [soft, noisy, jpeg] },
  faxed: { bends: [turn], spoils: [speckled, bilevel] },
  photographed: { bends: [aslant, curled, turn], spoils: [soft, shadowed, noisy, jpeg] },
};

export const defects = Object.keys(ways);

/** Some of all that can happen, for learning: no page in the tables is of this kind. */
function anyhow(random: Random): (typeof ways)[string] {
  const some = <T>(list: readonly (readonly [T, number])[]) =>
    list.filter(([, p]) => random.chance(p)).map(([what]) => what);
  return {
    bends: some([
      [aslant, 0.3],
      [curled, 0.3],
      [turn, 0.6],
    ] as const),
    spoils: some([
      [soft, 0.5],
      [shadowed, 0.3],
      [noisy, 0.5],
      [speckled, 0.15],
      [jpeg, 0.4],
      [bilevel, 0.25],
    ] as const),
  };
}

/** A page with a defect, or with any of them ("mixed"); the same seed gives the same page. */
export function suffer(picture: Picture, defect: string, seed: number, dpi: number): Suffered {
  const random = new Random(seed * 31 + defects.indexOf(defect));
  const { bends, spoils } = defect === 'mixed' ? anyhow(random) : ways[defect]!;
  const chain = bends.map((make) => make(picture, random));
  let now = picture;
  if (chain.length > 0)
    now = bent(picture, {
      to: (p) => p,
      from: (point) => chain.reduceRight<Point>((p, { from }) => from(p), point),
    });
  for (const spoil of spoils) now = spoil(now, random, dpi);
  return { picture: now, to: (point) => chain.reduce<Point>((p, { to }) => to(p), point) };
}
