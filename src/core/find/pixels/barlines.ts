import type { BarStroke } from '../types.ts';
import type { Straight } from './straight.ts';
import { uprightsOf, type Upright } from './strokes.ts';

/** Strokes of different staves this close, in spaces, are one. */
const ALIGNED = 0.5;
/** Strokes closer than this, in spaces, stand at one boundary; boundaries are further apart than a bar is narrow. */
const TOGETHER = 1.2;
const NARROWEST = 2.5;
/** Below this chance a stroke is no bar line. */
const LIKELY = 0.5;

/** Strokes of a system that are bar lines, left to right. */
export function barlinesOf(straight: Straight): BarStroke[] {
  const { unit, tops } = straight;
  const staves = tops.map((_, k) => uprightsOf(straight, k));
  const strokes: BarStroke[] = [];
  for (const first of staves[0]!) {
    const column = [first];
    for (const other of staves.slice(1)) {
      const partner = other.find((one) => Math.abs(middle(one) - middle(first)) < ALIGNED * unit);
      if (partner) column.push(partner);
    }
    if (column.length < staves.length) continue;
    const sure = sureOf(column);
    if (sure < LIKELY) continue;
    const width = Math.max(...column.map(({ x0, x1 }) => x1 - x0));
    const x = column.reduce((sum, one) => sum + middle(one), 0) / column.length;
    strokes.push({ x0: x - width / 2, x1: x + width / 2, sure });
  }
  return apart(strokes, unit);
}

const middle = ({ x0, x1 }: Upright) => (x0 + x1) / 2;

/** Chance that strokes above each other, one in each staff, are a bar line. */
function sureOf(column: readonly Upright[]): number {
  const first = column[0]!;
  const last = column.at(-1)!;
  const cover = Math.min(...column.map((one) => one.cover));
  const touched = column.reduce((sum, one) => sum + one.touched, 0) / column.length;
  const out = Math.max(first.over, last.under);
  const score = 5 + 40 * Math.min(0, cover - 0.96) - 2.2 * touched - 9 * Math.max(0, out - 0.3);
  return 1 / (1 + Math.exp(-score));
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
      if (group[0]!.x0 - groups[j]!.at(-1)!.x1 >= NARROWEST * unit && best[j]!.sum + worth(group) > best[i]!.sum)
        best[i] = { sum: best[j]!.sum + worth(group), before: j };
    if (answer < 0 || best[i]!.sum > best[answer]!.sum) answer = i;
  });
  const chosen: BarStroke[][] = [];
  for (let i = answer; i >= 0; i = best[i]!.before) chosen.unshift(groups[i]!);
  return chosen.flat();
}
