import { routeOf, type Marks } from '../../chart/index.ts';
import { titleOver } from '../tunes.ts';
import type { FoundChart, FoundPage } from '../types.ts';
import { marksFrom } from './marks.ts';
import { settle, settledPage, writtenOf } from './settle.ts';
import { looksOf, twinsOf } from './twins.ts';

/** A chart put together from what was found on its pages, as it is answered and as marks for the stand. */
export interface WholeChart extends FoundChart {
  readonly marks: Marks;
}

/** Bars that go on over lines, brackets, route and twins of all pages together. Never throws. */
export function wholeChart(pages: readonly FoundPage[]): WholeChart {
  const placed = settle(pages);
  const written = writtenOf(placed);
  const twins = twinsOf(written, looksOf(written, pages));
  const marks = marksFrom(pages, placed, twins);
  const index = new Map<string, number>();
  written.forEach((_, i) => index.set(`f${i + 1}`, i));
  const route = routeOf(marks).flatMap((id) => index.get(id) ?? []);
  const byPlace = new Map(placed.map((one) => [`${one.page} ${one.index}`, one.bar]));
  const settled = pages.map((page) => {
    let count = 0;
    const systems = page.systems.map((system) => ({
      ...system,
      bars: system.bars.map((bar) => byPlace.get(`${page.page} ${count++}`) ?? bar),
    }));
    return settledPage(page, systems);
  });
  const sure = Math.min(1, ...placed.map(({ bar }) => bar.sure));
  return { pages: settled, route, twins, marks, sure };
}

/** The first tune's title as printed; null when no words stand out over its first system. */
export function titleOf(pages: readonly FoundPage[]): { text: string; sure: number } | null {
  const first = pages.find(({ systems }) => systems.length > 0);
  const title = first && titleOver(first.signs, 0);
  return title === undefined ? null : { text: title.text!, sure: title.sure };
}
