import { briefOf, pagesOfTune, tunesOn } from '../tunes.ts';
import type { FoundChart, FoundPage } from '../types.ts';
import { wholeChart } from './index.ts';
import { settledPage } from './settle.ts';

/** The tunes of a file, one after the other, each with its own lines of the pages that it stands on. */
export const tunesOf = (pages: readonly FoundPage[]): readonly (readonly FoundPage[])[] =>
  tunesOn(pages.map(briefOf)).map((tune) => pagesOfTune(pages, tune));

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
