/** Bars found against bars that are there. */

import { iou, type Box } from '../../../src/core/chart/place.ts';

export type { Box };

/** Pairs of boxes, best first, each box in one pair at most. */
export function pairs(found: readonly Box[], truth: readonly Box[], least: number): [number, number][] {
  const all = found.flatMap((a, i) =>
    truth.map((b, j) => ({ i, j, value: iou(a, b) })).filter(({ value }) => value >= least),
  );
  all.sort((a, b) => b.value - a.value);
  const [left, right] = [new Set<number>(), new Set<number>()];
  return all
    .filter(({ i, j }) => {
      const isFree = !left.has(i) && !right.has(j);
      if (isFree) {
        left.add(i);
        right.add(j);
      }
      return isFree;
    })
    .map(({ i, j }) => [i, j]);
}

const COUNTS = [
  'found',
  'truth',
  'at50',
  'at75',
  'sides',
  'kinds',
  'endings',
  'endingsRight',
  'sure',
  'sureRight',
  'pages',
  'pagesRight',
] as const;

/** Counts that add up over pages. */
export class Tally {
  found = 0;
  truth = 0;
  at50 = 0;
  at75 = 0;
  /** Sides of bars at IoU 0.75, and those whose kind is right. */
  sides = 0;
  kinds = 0;
  /** Bars at IoU 0.75 under an ending bracket, or said to be, and those with the right numbers. */
  endings = 0;
  endingsRight = 0;
  /** Bars said to be sure of at least 0.99, and those of them that are there at IoU 0.75. */
  sure = 0;
  sureRight = 0;
  pages = 0;
  pagesRight = 0;
  /** What was said for what, kinds of bar lines and numbers of endings, with how often. */
  readonly mistaken = new Map<string, number>();
  /** Of one page: how sure each bar is said to be, and whether its box and its bar lines are right. */
  rows: (readonly [sure: number, isRight: boolean])[] = [];

  f1(at: 'at50' | 'at75'): number {
    return this.found + this.truth === 0 ? 1 : (2 * this[at]) / (this.found + this.truth);
  }

  add(other: Tally): void {
    for (const key of COUNTS) this[key] += other[key];
    for (const [what, count] of other.mistaken)
      this.mistaken.set(what, (this.mistaken.get(what) ?? 0) + count);
  }

  mistake(wanted: string, said: string): void {
    if (wanted !== said)
      this.mistaken.set(`${wanted} as ${said}`, (this.mistaken.get(`${wanted} as ${said}`) ?? 0) + 1);
  }
}

interface Bar {
  readonly box: Box;
  readonly left: string;
  readonly right: string;
  readonly ending?: readonly number[];
  readonly sure?: number;
}

/** Counts of one page. */
export function tallyOf(found: readonly Bar[], truth: readonly Bar[]): Tally {
  const tally = new Tally();
  const boxes = (bars: readonly Bar[]) => bars.map(({ box }) => box);
  const close = pairs(boxes(found), boxes(truth), 0.75);
  tally.found = found.length;
  tally.truth = truth.length;
  tally.at50 = pairs(boxes(found), boxes(truth), 0.5).length;
  tally.at75 = close.length;
  for (const [i, j] of close) {
    const [a, b] = [found[i]!, truth[j]!];
    tally.sides += 2;
    tally.kinds += Number(a.left === b.left) + Number(a.right === b.right);
    tally.mistake(b.left, a.left);
    tally.mistake(b.right, a.right);
    tally.mistake(`ending ${String(b.ending)}`, `ending ${String(a.ending)}`);
    if (a.ending !== undefined || b.ending !== undefined) {
      tally.endings++;
      tally.endingsRight += Number(JSON.stringify(a.ending) === JSON.stringify(b.ending));
    }
  }
  const right = new Set(close.map(([i]) => i));
  const whole = new Set(
    close
      .filter(([i, j]) => found[i]!.left === truth[j]!.left && found[i]!.right === truth[j]!.right)
      .map(([i]) => i),
  );
  tally.rows = found.map(({ sure }, i) => [sure ?? 0, whole.has(i)] as const);
  found.forEach(({ sure }, i) => {
    if ((sure ?? 0) < 0.99) return;
    tally.sure++;
    if (right.has(i)) tally.sureRight++;
  });
  tally.pages = 1;
  tally.pagesRight = Number(close.length === truth.length && found.length === truth.length);
  return tally;
}
