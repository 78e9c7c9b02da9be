import type { BarStroke, Dot } from '../types.ts';
import type { Straight } from './straight.ts';

/** Strokes closer than this, in spaces, stand at one boundary, as in bars/boundaries.ts. */
const TOGETHER = 1.2;
/** From here on, in spaces, a stroke is thick. */
const THICK = 0.3;
/** Width of a dot at half its darkness, in spaces; the wider of a pair is at most so much wider. */
const SMALLEST = 0.2;
const LARGEST = 0.75;
const ALIKE = 1.6;
/** How far from a stroke repeat dots stand, in spaces, edge to middle. */
const NEAR = 0.25;
const FAR = 1.6;
/** How much darker a dot is than what stands around it, 0–255. */
const STANDS_OUT = 45;
/** Darkness between a dot and a stroke this close, in spaces, counts as much: out of focus they run together. */
const CLOSE = 0.4;
const TOWARDS = 0.6;
/** Middles of the two dots lie this close above each other, in spaces. */
const ALIGNED = 0.12;

/**
 * Pairs of dots in the second and third space beside the strokes, both dots of each. A repeat sign has a thick
 * stroke, or two (common practice, no source): beside a single thin one a pair is a rest or noise.
 */
export function dotsOf(straight: Straight, strokes: readonly BarStroke[]): Dot[] {
  const { unit, tops } = straight;
  const dots: Dot[] = [];
  for (const group of boundariesIn(strokes, unit)) {
    if (group.length < 2 && !group.some(({ x0, x1 }) => x1 - x0 >= THICK * unit)) continue;
    for (const way of [-1, 1] as const) {
      const edge = way < 0 ? group[0]!.x0 : group.at(-1)!.x1;
      const pairs = tops.map((top) => pairIn(straight, top, edge, way));
      // Every staff of the system has them, or none does (common practice, no source).
      if (pairs.includes(null)) continue;
      for (const [i, top] of tops.entries())
        for (const k of [1.5, 2.5]) dots.push({ x: pairs[i]!, y: top + k * unit, width: 0.4 * unit });
    }
  }
  return dots;
}

/** Strokes of one boundary together, left to right. */
function boundariesIn(strokes: readonly BarStroke[], unit: number): BarStroke[][] {
  const groups: BarStroke[][] = [];
  for (const stroke of [...strokes].sort((a, b) => a.x0 - b.x0)) {
    const last = groups.at(-1);
    if (last && stroke.x0 - last.at(-1)!.x1 <= TOGETHER * unit) last.push(stroke);
    else groups.push([stroke]);
  }
  return groups;
}

/** Column of the clearest pair at one side of a stroke; null when there is none. */
function pairIn(straight: Straight, top: number, edge: number, way: 1 | -1): number | null {
  const { unit } = straight;
  const half = Math.max(1, Math.round(0.12 * unit));
  const side = Math.round(0.42 * unit);
  const patch = (u: number, k: number) => mean(straight, u - half, u + half, top + k * unit, half);
  let best: number | null = null;
  let most = STANDS_OUT;
  for (let away = NEAR * unit; away <= FAR * unit; away++) {
    const u = Math.round(edge + way * away - 0.5);
    const inner = Math.min(patch(u, 1.5), patch(u, 2.5));
    if (inner <= most) continue;
    // Beyond the dots is white, as are the outer spaces and, but for the line, the way from one to the other;
    // towards the stroke it is at least lighter.
    const beyond = [1.5, 2.5].map((k) => patch(u + way * side, k));
    const isClose = away < (0.42 + CLOSE) * unit;
    const towards = [1.5, 2.5].map(
      (k) => (isClose ? TOWARDS : 1) * patch(u - way * Math.round(0.36 * unit), k),
    );
    const outer = [0.5, 3.5].map((k) => patch(u, k));
    const across = [1.85, 2.15].map((k) => patch(u, k) - patch(u + way * side, k));
    const out = inner - Math.max(...beyond, ...towards, ...outer, ...across);
    if (out <= most) continue;
    const [upper, lower] = [1.5, 2.5].map((k) => middleOf(straight, u, top + k * unit, side));
    if (Math.abs(upper! - lower!) > ALIGNED * unit) continue;
    if (!areAlike(straight, u, top, Math.max(...beyond))) continue;
    [best, most] = [u + 0.5, out];
  }
  return best;
}

/** Both spots are as wide as dots are, and as each other. `paper` is the darkness beside them. */
function areAlike(straight: Straight, u: number, top: number, paper: number): boolean {
  const { unit } = straight;
  const half = Math.max(1, Math.round(0.15 * unit));
  const widths = [1.5, 2.5].map((k) => {
    const at = (x: number) => mean(straight, x, x, top + k * unit, half);
    const ink = (at(u) + paper) / 2;
    let [x0, x1] = [u, u];
    while (u - x0 < unit && at(x0 - 1) > ink) x0--;
    while (x1 - u < unit && at(x1 + 1) > ink) x1++;
    return (x1 - x0 + 1) / unit;
  });
  const [narrow, wide] = [Math.min(...widths), Math.max(...widths)];
  return narrow >= SMALLEST && wide <= LARGEST && wide <= ALIKE * narrow;
}

/** Column in the middle of the ink around a place. */
function middleOf({ width, data, unit }: Straight, u0: number, v0: number, reach: number): number {
  let [sum, moment] = [0, 0];
  const high = Math.round(0.25 * unit);
  for (let v = Math.round(v0) - high; v <= v0 + high; v++)
    for (let u = Math.max(0, u0 - reach); u <= Math.min(width - 1, u0 + reach); u++) {
      sum += data[v * width + u]!;
      moment += u * data[v * width + u]!;
    }
  return moment / (sum || 1);
}

function mean({ width, height, data }: Straight, u0: number, u1: number, v: number, half: number): number {
  let sum = 0;
  let count = 0;
  for (let y = Math.round(v) - half; y <= v + half; y++)
    for (let u = u0; u <= u1; u++, count++)
      if (u >= 0 && u < width && y >= 0 && y < height) sum += data[y * width + u]!;
  return sum / count;
}
