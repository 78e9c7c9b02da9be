import type { BarStroke } from '../types.ts';
import { median } from './lanes.ts';
import type { Straight } from './straight.ts';
import { uprightsOf, type Upright } from './strokes.ts';
import { uprightCover } from './uprights.ts';

/** A bar line at the end lies at most so many spaces beyond it; a thick one and dots hide where the lines end. */
const PAST_END = 0.6;
const HIDDEN_END = 2.4;
/** Middles of two strokes of one bar line are at most so many spaces apart. */
const PAIR = 1.1;
/** Strokes of different staves this close, in spaces, are one. */
const ALIGNED = 0.5;
/** Strokes closer than this, in spaces, stand at one boundary; boundaries are further apart than a bar is narrow. */
const TOGETHER = 1.2;
const NARROWEST = 2.5;
/** A stroke wider than this, in spaces, has a thin one beside it. */
const THICK = 0.32;
/** The thick stroke of a final bar line has half a space; one without a partner below this is a thin one printed fat. */
const FAT = 0.45;
/** The thin stroke beside a thick one has at most this share of its width. */
const THINNER = 0.7;
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

/** The bar lines of a system, and how likely the strokes that were left out are bar lines after all. */
export interface Lines {
  /** Left to right. */
  readonly strokes: readonly BarStroke[];
  readonly doubts: readonly Doubt[];
}

export interface Doubt {
  /** Column of the stroke. */
  readonly x: number;
  /** The chance, 0–1, that it is a bar line. */
  readonly chance: number;
}

/** Strokes of a system that are bar lines, left to right. */
export function barlinesOf(straight: Straight): Lines {
  const { unit } = straight;
  const candidates = candidatesOf(straight);
  // At a low resolution bar lines of one width are printed one pixel wider or narrower.
  const pixel = 1 / (straight.toPage(1, 0)[0] - straight.toPage(0, 0)[0]);
  const first = candidates.map((one) => scoreOf(one, candidates, unit));
  const good = candidates.filter((_, i) => first[i]! > 3);
  const thin = good.map(({ width }) => width).filter((width) => width < THICK * unit);
  const usual = thin.length >= 3 ? median(thin) : 0;
  const goOn = straight.tops.length > 1 && good.filter((one) => one.goesOn).length >= 0.5 * good.length;
  const strokes = candidates.map((one, i) => {
    // A stem is thinner than the bar lines of its page.
    const thinner = Math.max(0, 0.8 - (one.width + pixel) / (usual || one.width));
    const score = first[i]! - 12 * thinner - (goOn && !one.goesOn ? 5 : 0);
    const hasPartner = candidates.some(
      (other, k) => k !== i && first[k]! > 0 && Math.abs(other.x - one.x) < TOGETHER * unit,
    );
    const width = hasPartner || one.width > FAT * unit ? one.width : Math.min(one.width, 0.25 * unit);
    const [x0, x1] = [one.x - width / 2, one.x + width / 2];
    return { x0, x1, sure: 1 / (1 + Math.exp(-score)) };
  });
  const chosen = apart(
    strokes.filter(({ sure }) => sure >= LIKELY),
    unit,
  );
  // A stroke that stands at a chosen boundary parts nothing.
  const doubts = strokes
    .filter((one) => chosen.every((other) => Math.abs(other.x0 - one.x0) > NARROWEST * unit))
    .map(({ x0, x1, sure }) => ({ x: (x0 + x1) / 2, chance: sure }));
  return { strokes: chosen, doubts };
}

const middle = ({ x0, x1 }: Upright) => (x0 + x1) / 2;

function candidatesOf(straight: Straight): Candidate[] {
  const { unit, tops, ends } = straight;
  const [start, end] = [Math.min(...ends.map(({ x0 }) => x0)), Math.max(...ends.map(({ x1 }) => x1))];
  const staves = tops.map((_, k) => uprightsOf(straight, k));
  const between = tops.slice(1).map((top, k) => uprightCover(straight, tops[k]! + 4 * unit, top));
  const found: Candidate[] = [];
  const isAnyThick = staves[0]!.some(({ x0, x1 }) => x1 - x0 > THICK * unit && x1 > end);
  for (const first of staves[0]!) {
    const column = [first];
    for (const other of staves.slice(1)) {
      const partner = other.find((one) => Math.abs(middle(one) - middle(first)) < ALIGNED * unit);
      if (partner) column.push(partner);
    }
    const x = column.reduce((sum, one) => sum + middle(one), 0) / column.length;
    const width = median(column.map(({ x0, x1 }) => x1 - x0));
    const past = isAnyThick || width > THICK * unit ? HIDDEN_END : PAST_END;
    if (column.length < staves.length || x < start - 0.3 * unit || x > end + past * unit) continue;
    const u = Math.round(x - 0.5);
    const goesOn = between.every((cover) => Math.max(cover[u - 1]!, cover[u]!, cover[u + 1]!) >= GOES_ON);
    found.push({ x, width, column, goesOn });
  }
  return found;
}

/** How many places at a side of a candidate hold ink, over its staves. */
const touchedAt = ({ column }: Candidate, side: 0 | 1) =>
  column.reduce((sum, one) => sum + one.touched[side], 0) / column.length;

/** A stroke from line to line and no further, with nothing at the side away from `other`. */
const isPartner = (one: Candidate, other: Candidate) =>
  touchedAt(one, one.x < other.x ? 0 : 1) < 1 &&
  one.column.every(({ cover, ends, over, under }) => cover > 0.97 && ends > 0.85 && over + under < 0.5);

/** The logarithm of the odds that a candidate is a bar line. */
function scoreOf(one: Candidate, all: readonly Candidate[], unit: number): number {
  const { x, width, column, goesOn } = one;
  const cover = Math.min(...column.map((stroke) => stroke.cover));
  const ends = Math.min(...column.map((stroke) => stroke.ends));
  const beside = all.filter((other) => other !== one && Math.abs(other.x - x) < TOGETHER * unit);
  // What touches a stroke at the side of its partner is the partner; beside a thick one it is the repeat's dots.
  const partners = beside.filter((other) => Math.abs(other.x - x) < PAIR * unit && isPartner(other, one));
  const isFree = (side: 0 | 1) => partners.some((other) => (side === 0 ? other.x < x : other.x > x));
  const hasThick = partners.some((other) => other.width > THICK * unit && width < THINNER * other.width);
  const touching = ([0, 1] as const).reduce<number>(
    (sum, side) => sum + (isFree(side) ? 0 : touchedAt(one, side)),
    0,
  );
  const touched = hasThick ? Math.max(0, touching - 4) : touching;
  const out = Math.max(column[0]!.over, column.at(-1)!.under);
  const isLone = width > FAT * unit && !beside.some((other) => other.width < THINNER * width);
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
