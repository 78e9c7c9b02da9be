/** Looks of the uprights of a straightened picture of a system. */
import { kernels, lent } from '../kernels/kernels.ts';
import type { Straight } from '../pixels/straight.ts';
import type { Upright } from './seen.ts';
import { BESIDE, FOLLOWED, type Traits } from './traits.ts';

/** From this darkness on, 0–255, a pixel is ink here; faint pages are left to the finder itself. */
const INK = 90;
/** Shorter runs of ink are no candidates, and this much may be missing in one, in spaces. */
const SHORTEST = 1.8;
const GAP = 0.3;
/** Of fainter strokes, 0–1, too little is seen to tell one from another. */
const FAINT = 0.6;
/** Wider ones are beams and heads, in spaces. */
const WIDEST = 0.8;
/** A head is so near to an end of its stem, and partners' ends to each other, in spaces. */
const AT_END = 0.75;
const LEVEL = 0.4;
/** Darkness beside a stroke, as a share of its own, that touches it. */
const HELD = 0.4;

interface Run {
  readonly from: number;
  readonly to: number;
  readonly ink: number;
}

/** Uprights at the staves of a straightened system, left to right, in its pixels. */
export function uprightsInPixels(straight: Straight): Upright[] {
  const { width, unit, tops } = straight;
  const [top, bottom] = [tops[0]!, tops.at(-1)! + 4 * unit];
  const runs = longestRuns(straight, top, bottom);
  const found: { x: number; run: Run; width: number }[] = [];
  for (let u = 1; u < width - 1; u++) {
    if (!isLong(runs[u]!, unit)) continue;
    const start = u;
    let best = u;
    while (u < width - 1 && isLong(runs[u]!, unit)) {
      if (runs[u]!.ink > runs[best]!.ink) best = u;
      u++;
    }
    if (u - start > (WIDEST + 0.3) * unit) continue;
    const run = runs[best]!;
    found.push({ x: middleOf(straight, start, u, run), run, width: widthOf(straight, start, u, run) });
  }
  return found
    .map((one) => ({ x: one.x, traits: traitsOf(straight, one, found, top, bottom) }))
    .filter(({ traits }) => traits.dark >= FAINT);
}

const isLong = ({ from, to }: Run, unit: number) => to - from >= SHORTEST * unit;

/** The longest run of ink in each column near the staves; none in those at the sides. */
function longestRuns({ width, height, data, unit }: Straight, top: number, bottom: number): Run[] {
  const first = Math.max(0, Math.round(top - FOLLOWED * unit));
  const last = Math.min(height - 1, Math.round(bottom + FOLLOWED * unit));
  const part = data.subarray(first * width, (last + 1) * width);
  const { at, bytes, words } = lent(part.length, 12 * width, 12 * width);
  const [picture, open, best] = at;
  bytes.set(part, picture);
  kernels().longestRuns(picture, width, 0, last - first, INK, GAP * unit, open, best);
  return Array.from({ length: width }, (_, u) => {
    const i = best / 4 + u;
    const ink = words[i + 2 * width]!;
    const isNone = u < 1 || u > width - 2 || ink === 0;
    return isNone
      ? { from: 0, to: 0, ink: 0 }
      : { from: first + words[i]!, to: first + words[i + width]!, ink };
  });
}

function middleOf({ width, data }: Straight, start: number, end: number, { from, to }: Run): number {
  let [sum, moment] = [0, 0];
  for (let v = from; v <= to; v++)
    for (let u = start; u < end; u++) {
      sum += data[v * width + u]!;
      moment += data[v * width + u]! * (u + 0.5);
    }
  return moment / Math.max(1, sum);
}

/** Ink laid side by side: how wide a stroke is, in pixels, whatever the blur. */
function widthOf({ width, data }: Straight, start: number, end: number, { from, to }: Run): number {
  const widths: number[] = [];
  for (let v = from; v <= to; v++) {
    let sum = 0;
    for (let u = Math.max(0, start - 1); u <= Math.min(width - 1, end); u++)
      sum += data[v * width + u]! / 255;
    widths.push(sum);
  }
  return widths.sort((a, b) => a - b)[Math.floor(widths.length * 0.3)]!;
}

function traitsOf(
  straight: Straight,
  one: { readonly x: number; readonly run: Run; readonly width: number },
  all: readonly { readonly x: number; readonly run: Run }[],
  top: number,
  bottom: number,
): Traits {
  const { unit } = straight;
  const { x, run, width } = one;
  const clip = (value: number) => Math.min(FOLLOWED, Math.max(-FOLLOWED, value));
  const dark = darkAt(straight, x, run);
  const touch = (side: 1 | -1, end: number) =>
    touched(straight, x + side * (width / 2 + 0.12 * unit), side, end, dark) ? 1 : 0;
  const beside = (side: 1 | -1) =>
    all.reduce((least, other) => {
      const gap = (side * (other.x - x)) / unit;
      const off = Math.max(Math.abs(run.from - other.run.from), Math.abs(run.to - other.run.to));
      return gap > 0.05 && off <= LEVEL * unit ? Math.min(least, gap) : least;
    }, BESIDE);
  return {
    over: clip((top - run.from) / unit),
    under: clip((run.to - bottom) / unit),
    thick: width / unit,
    cover: run.ink / (run.to - run.from + 1),
    leftUpper: touch(-1, run.from),
    leftLower: touch(-1, run.to),
    rightUpper: touch(1, run.from),
    rightLower: touch(1, run.to),
    besideLeft: beside(-1),
    besideRight: beside(1),
    dark: dark / 255,
  };
}

function darkAt({ width, data }: Straight, x: number, { from, to }: Run): number {
  const u = Math.round(x - 0.5);
  let sum = 0;
  for (let v = from; v <= to; v++)
    sum += Math.max(data[v * width + u - 1] ?? 0, data[v * width + u] ?? 0, data[v * width + u + 1] ?? 0);
  return sum / (to - from + 1);
}

/** Something dark stands at an edge near an end; staff lines say nothing. */
function touched(
  { width, height, data, unit, tops }: Straight,
  edge: number,
  side: 1 | -1,
  end: number,
  dark: number,
): boolean {
  const line = 0.2 * unit;
  const isLine = (v: number) =>
    tops.some((first) => {
      const k = Math.round((v - first) / unit);
      return k >= 0 && k <= 4 && Math.abs(v - first - k * unit) < line;
    });
  const size = Math.max(2, Math.round(0.3 * unit));
  const reach = Math.max(2, Math.round(0.3 * unit));
  const [first, last] = [Math.max(0, Math.round(end - AT_END * unit)), Math.round(end + AT_END * unit)];
  for (let v = first; v + size <= Math.min(height - 1, last); v++) {
    let [sum, count] = [0, 0];
    for (let w = v; w < v + size; w++) {
      if (isLine(w)) continue;
      for (let n = 0; n < reach; n++) {
        const u = Math.round(edge + side * n);
        if (u < 0 || u >= width) continue;
        sum += data[w * width + u]!;
        count++;
      }
    }
    if (count >= size && sum / count >= HELD * dark) return true;
  }
  return false;
}
