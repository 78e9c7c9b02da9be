import type { BarStroke } from '../types.ts';
import { median } from './lanes.ts';
import type { Straight } from './straight.ts';
import { uprightsOf, type Upright } from './strokes.ts';
import { uprightCover } from './uprights.ts';

/** Strokes of different staves this close, in spaces, are one. */
const ALIGNED = 0.5;
/** Strokes closer than this, in spaces, stand at one boundary; boundaries are further apart than a bar is narrow. */
const TOGETHER = 1.2;
const NARROWEST = 2.5;
/** A stroke wider than this, in spaces, has a thin one beside it. */
const THICK = 0.32;
/** Below this chance a stroke is no bar line. */
const LIKELY = 0.5;
/** Share of the way between two staves that a stroke covers which goes on from one to the other. */
const GOES_ON = 0.9;

/** Strokes above each other, one in each staff. */
interface Candidate {
  readonly x: number;
  readonly width: number;
  readonly column: readonly Upright[];
  /** It goes on from staff to staff, which all do or none. */
  readonly goesOn: boolean;
}

/** Strokes of a system that are bar lines, left to right. */
export function barlinesOf(straight: Straight): BarStroke[] {
  const { unit } = straight;
  const candidates = candidatesOf(straight);
  const first = candidates.map((one) => scoreOf(one, candidates, unit));
  const good = candidates.filter((_, i) => first[i]! > 3);
  const thin = good.map(({ width }) => width).filter((width) => width < THICK * unit);
  const usual = thin.length >= 3 ? median(thin) : 0;
  const goOn = straight.tops.length > 1 && good.filter((one) => one.goesOn).length >= 0.5 * good.length;
  const strokes = candidates.map((one, i) => {
    // A stem is thinner than the bar lines of its page.
    const thinner = Math.max(0, 0.8 - one.width / (usual || one.width));
    const score = first[i]! - 12 * thinner - (goOn && !one.goesOn ? 5 : 0);
    const [x0, x1] = [one.x - one.width / 2, one.x + one.width / 2];
    return { x0, x1, sure: 1 / (1 + Math.exp(-score)) };
  });
  return apart(
    strokes.filter(({ sure }) => sure >= LIKELY),
    unit,
  );
}

const middle = ({ x0, x1 }: Upright) => (x0 + x1) / 2;

function candidatesOf(straight: Straight): Candidate[] {
  const { unit, tops, ends } = straight;
  const [start, end] = [Math.min(...ends.map(({ x0 }) => x0)), Math.max(...ends.map(({ x1 }) => x1))];
  const staves = tops.map((_, k) => uprightsOf(straight, k));
  const between = tops.slice(1).map((top, k) => uprightCover(straight, tops[k]! + 4 * unit, top));
  const found: Candidate[] = [];
  for (const first of staves[0]!) {
    const column = [first];
    for (const other of staves.slice(1)) {
      const partner = other.find((one) => Math.abs(middle(one) - middle(first)) < ALIGNED * unit);
      if (partner) column.push(partner);
    }
    const x = column.reduce((sum, one) => sum + middle(one), 0) / column.length;
    if (column.length < staves.length || x < start - 0.3 * unit || x > end + 0.6 * unit) continue;
    const width = median(column.map(({ x0, x1 }) => x1 - x0));
    const u = Math.round(x - 0.5);
    const goesOn = between.every((cover) => Math.max(cover[u - 1]!, cover[u]!, cover[u + 1]!) >= GOES_ON);
    found.push({ x, width, column, goesOn });
  }
  return found;
}

/** The logarithm of the odds that a candidate is a bar line. */
function scoreOf({ x, width, column, goesOn }: Candidate, all: readonly Candidate[], unit: number): number {
  const cover = Math.min(...column.map((one) => one.cover));
  const ends = Math.min(...column.map((one) => one.ends));
  const touched = column.reduce((sum, one) => sum + one.touched, 0) / column.length;
  const out = Math.max(column[0]!.over, column.at(-1)!.under);
  const isLone =
    width > THICK * unit &&
    !all.some((one) => one.x !== x && Math.abs(one.x - x) < TOGETHER * unit && one.width < THICK * unit);
  return (
    5.5 -
    50 * Math.max(0, 0.97 - cover) -
    6 * touched -
    10 * Math.max(0, 0.85 - ends) -
    9 * Math.max(0, out - 0.3) -
    (isLone ? 4 : 0) +
    (goesOn && column.length > 1 ? 2 : 0)
  );
}

/** Of boundaries that stand too close the likelier ones: the best sum of scores over the system. */
function apart(strokes: readonly BarStroke[], unit: number): BarStroke[] {
  const groups: BarStroke[][] = [];
  for (const stroke of strokes) {
    const last = groups.at(-1);
    if (last && stroke.x0 - last.at(-1)!.x1 <= TOGETHER * unit) last.push(stroke);
    else groups.push([stroke]);
  }
  const worth = (group: readonly BarStroke[]) => {
    const sure = Math.max(...group.map((one) => one.sure));
    return Math.log(sure / (1 - Math.min(sure, 0.9999)));
  };
  const best: { sum: number; before: number }[] = [];
  let answer = -1;
  groups.forEach((group, i) => {
    best[i] = { sum: worth(group), before: -1 };
    for (let j = 0; j < i; j++)
      if (
        group[0]!.x0 - groups[j]!.at(-1)!.x1 >= NARROWEST * unit &&
        best[j]!.sum + worth(group) > best[i].sum
      )
        best[i] = { sum: best[j]!.sum + worth(group), before: j };
    if (answer < 0 || best[i].sum > best[answer]!.sum) answer = i;
  });
  const chosen: BarStroke[][] = [];
  for (let i = answer; i >= 0; i = best[i]!.before) chosen.unshift(groups[i]!);
  return chosen.flat();
}
