import type { Bar, BarId, Marks } from '../chart/types.ts';
import { wholeChart, type WholeChart } from './chart/index.ts';
import { withParts } from './chart/parts.ts';
import { playable } from './chart/playable.ts';
import type { FoundPage } from './types.ts';

/** Edges of neighbours this near are one bar line, fractions of the page's width. */
const MEET = 0.02;

/** Pages on which bars are compared as pictures. As engraved they are told in no time, and without doubt. */
export const arePictures = (pages: readonly FoundPage[]): boolean => pages.some(({ by }) => by === 'pixels');

/**
 * What was found on a chart's pages as marks that can be played and edited. `newId` names bars and systems, so
 * that two findings never share an id by chance.
 */
export function proposalFrom(pages: readonly FoundPage[], newId: () => string): Marks {
  const whole = wholeChart(pages);
  // What is printed on an engraved page is read: there a contradiction is the page's own, and is told.
  const read = arePictures(pages) ? playable(whole.marks) : whole.marks;
  const marks = withParts(read, arePictures(pages) ? new Set() : doublesOf(whole));
  const ids = new Map(marks.systems.flatMap(({ bars }) => bars.map(({ id }) => [id, newId()] as const)));
  const systems = marks.systems.map((system) => ({
    ...system,
    id: newId(),
    bars: meeting(system.bars).map((bar) => ({
      ...bar,
      id: ids.get(bar.id)!,
      ...(bar.as !== undefined && { as: ids.get(bar.as)! }),
    })),
  }));
  return { ...marks, systems };
}

/** Bars that end at a double bar line; on a scan that is no more than likely. */
function doublesOf({ pages, marks }: WholeChart): ReadonlySet<BarId> {
  const found = pages.flatMap(({ systems }) => systems.flatMap(({ bars }) => bars));
  const ids = marks.systems.flatMap(({ bars }) => bars.map(({ id }) => id));
  return new Set(ids.filter((_, i) => found[i]!.right === 'double' || found[i]!.right === 'final'));
}

/**
 * On a page that lies askew the boxes of neighbours reach into each other, as a bar line leans: they meet in
 * the middle of it.
 */
function meeting(bars: readonly Bar[]): Bar[] {
  const line = (left: Bar, right: Bar) =>
    Math.abs(left.x1 - right.x0) < MEET ? (left.x1 + right.x0) / 2 : null;
  return bars.map((bar, i) => {
    const [before, after] = [bars[i - 1], bars[i + 1]];
    return {
      ...bar,
      x0: (before && line(before, bar)) ?? bar.x0,
      x1: (after && line(bar, after)) ?? bar.x1,
    };
  });
}
