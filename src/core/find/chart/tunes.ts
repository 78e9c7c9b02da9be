import type { FoundChart, FoundPage, FoundSystem } from '../types.ts';
import { wholeChart } from './index.ts';
import { settledPage } from './settle.ts';

/** Bar lines that a tune can end with. */
export const ENDS: ReadonlySet<string> = new Set(['final', 'repeat-end', 'double']);

/** A title read with less may be any words over a line. */
const TITLE_SURE = 0.9;

/**
 * The tunes of a file, one after the other. A tune begins where the line before has ended one, a title stands
 * over the line, and the line says its meter, as the first line of a tune does and a trio or a coda does not
 * (common practice, no source). Where that is not seen, lines stay together: to part them is one gesture.
 * Pages without music belong to no tune.
 */
export function tunesOf(pages: readonly FoundPage[]): readonly (readonly FoundPage[])[] {
  const tunes: FoundPage[][] = [];
  let before: FoundSystem | null = null;
  for (const page of pages) {
    let from = 0;
    for (const [at, system] of page.systems.entries()) {
      const above = at === 0 ? 0 : page.systems[at - 1]!.box[3];
      if (tunes.length === 0) tunes.push([]);
      else if (before && begins(page, above, system, before)) {
        if (at > from) tunes.at(-1)!.push(partOf(page, from, at));
        tunes.push([]);
        from = at;
      }
      before = system;
    }
    if (page.systems.length > from) tunes.at(-1)!.push(partOf(page, from, page.systems.length));
  }
  return tunes;
}

function begins(page: FoundPage, above: number, system: FoundSystem, before: FoundSystem): boolean {
  const hasTitle = page.signs.some(
    ({ kind, box, sure }) =>
      kind === 'title' && sure >= TITLE_SURE && box[1] >= above && box[3] <= system.box[1],
  );
  return hasTitle && ENDS.has(before.bars.at(-1)?.right ?? 'none') && system.bars[0]?.meter !== undefined;
}

/** Some systems of a page with the signs that belong to them, as if there were no others. */
export function partOf(page: FoundPage, from: number, to: number): FoundPage {
  if (from === 0 && to === page.systems.length) return page;
  const count = (end: number) => page.systems.slice(0, end).reduce((sum, { bars }) => sum + bars.length, 0);
  const [first, last] = [count(from), count(to)];
  const top = from === 0 ? 0 : page.systems[from - 1]!.box[3];
  const bottom = to === page.systems.length ? 1 : page.systems[to]!.box[1];
  const signs = page.signs.flatMap((sign) => {
    if (sign.bar !== undefined)
      return sign.bar >= first && sign.bar < last ? [{ ...sign, bar: sign.bar - first }] : [];
    // What belongs to no bar, a title, belongs to the line under it.
    const isTitle = sign.kind === 'title';
    const ends = isTitle ? (page.systems[to - 1]?.box[1] ?? 1) : bottom;
    return sign.box[1] >= top && sign.box[3] <= ends ? [sign] : [];
  });
  return { ...page, systems: page.systems.slice(from, to), signs };
}

/** All tunes of a file, bars counted over all of them: each has its own route, and no twin in another. */
export function wholeFile(pages: readonly FoundPage[]): FoundChart {
  const charts = tunesOf(pages).map((tune) => wholeChart(tune));
  let first = 0;
  const route: number[] = [];
  const twins: (readonly number[])[] = [];
  for (const chart of charts) {
    route.push(...chart.route.map((bar) => bar + first));
    twins.push(...chart.twins.map((group) => group.map((bar) => bar + first)));
    first += chart.pages
      .flatMap(({ systems }) => systems.flatMap(({ bars }) => bars))
      .filter((bar, i) => !(bar.continues === true && i > 0)).length;
  }
  const settled = pages.map((page) =>
    settledPage(
      page,
      charts.flatMap((chart) =>
        chart.pages.filter((part) => part.page === page.page).flatMap(({ systems }) => systems),
      ),
    ),
  );
  return { pages: settled, route, twins, sure: Math.min(1, ...charts.map(({ sure }) => sure)) };
}
