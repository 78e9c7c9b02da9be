/** Compares what was found with what the engraver says it drew. */
import { iou } from '../../src/core/chart/place.ts';
import type { FoundChart, FoundPage } from '../../src/core/find/types.ts';
import type { Box, Truth } from './truth.ts';

export interface Score {
  charts: number;
  chartsWithAllSystems: number;
  bars: number;
  found: number;
  matched: number;
  kinds: number;
  kindsRight: number;
  endings: number;
  endingsRight: number;
  routes: number;
  routesRight: number;
  /** Pairs of bars compared; pairs that are twins; pairs said to be twins; said and wrong. */
  pairs: number;
  twins: number;
  twinsFound: number;
  twinsFalse: number;
  sure: number;
  sureRight: number;
}

export const emptyScore = (): Score => ({
  charts: 0,
  chartsWithAllSystems: 0,
  bars: 0,
  found: 0,
  matched: 0,
  kinds: 0,
  kindsRight: 0,
  endings: 0,
  endingsRight: 0,
  routes: 0,
  routesRight: 0,
  pairs: 0,
  twins: 0,
  twinsFound: 0,
  twinsFalse: 0,
  sure: 0,
  sureRight: 0,
});

const MATCH = 0.75;
const SURE = 0.99;

interface Flat {
  page: number;
  box: Box;
  left: string;
  right: string;
  ending: string;
  sure: number;
}

function flatFound(pages: readonly FoundPage[]): Flat[] {
  return pages.flatMap((page, index) =>
    page.systems.flatMap((system) =>
      system.bars.map((bar) => ({
        page: index,
        box: [
          bar.box[0] * page.width,
          bar.box[1] * page.height,
          bar.box[2] * page.width,
          bar.box[3] * page.height,
        ] as Box,
        left: bar.left,
        right: bar.right,
        ending: (bar.ending ?? []).join(),
        sure: bar.sure,
      })),
    ),
  );
}

/** Adds one chart to a score; gives what was wrong with it, in words. */
export function measure(
  score: Score,
  truth: Truth,
  pages: readonly FoundPage[],
  chart: FoundChart | null,
): string[] {
  const wrong: string[] = [];
  const found = flatFound(pages);
  const wanted = truth.pages.flatMap((page, index) =>
    page.systems.flatMap((system) => system.bars.map((bar) => ({ page: index, ...bar }))),
  );
  const pair = wanted.map((bar) =>
    found.findIndex((one) => one.page === bar.page && iou(one.box, bar.box) >= MATCH),
  );
  score.charts++;
  score.bars += wanted.length;
  score.found += found.length;
  score.matched += pair.filter((i) => i >= 0).length;
  const matched = new Set(pair);
  found.forEach((bar, i) => {
    if (!matched.has(i))
      wrong.push(`no such bar: page ${bar.page} ${bar.box.map(Math.round).join()} sure ${bar.sure}`);
    if (bar.sure < SURE) return;
    score.sure++;
    if (matched.has(i)) score.sureRight++;
  });
  wanted.forEach((bar, i) => {
    const one = found[pair[i]!];
    if (one === undefined) {
      wrong.push(`bar ${i} not found: page ${bar.page} ${bar.box.map(Math.round).join()}`);
      return;
    }
    for (const side of ['left', 'right'] as const) {
      score.kinds++;
      if (one[side] === bar[side]) score.kindsRight++;
      else wrong.push(`bar ${i} ${side}: ${one[side]}, not ${bar[side]}`);
    }
    const ending = (bar.ending ?? []).join();
    if (ending !== '' || one.ending !== '') {
      score.endings++;
      if (ending === one.ending) score.endingsRight++;
      else wrong.push(`bar ${i} ending: ${one.ending || 'none'}, not ${ending || 'none'}`);
    }
  });
  const systemsRight = truth.pages.every((page, p) => {
    const systems = pages[p]?.systems ?? [];
    return (
      systems.length === page.systems.length &&
      page.systems.every((system, s) => {
        const one = systems[s]!;
        const { width, height } = pages[p]!;
        const box: Box = [one.box[0] * width, one.box[1] * height, one.box[2] * width, one.box[3] * height];
        return (
          iou(box, system.box) >= MATCH &&
          one.staves.length === system.staves &&
          one.bars.length === system.bars.length
        );
      })
    );
  });
  if (systemsRight) score.chartsWithAllSystems++;
  else wrong.push('systems');
  if (chart === null) return wrong;
  score.routes++;
  if (chart.route.join() === truth.route.join()) score.routesRight++;
  else wrong.push(`route: ${chart.route.join()}, not ${truth.route.join()}`);
  if (found.length !== wanted.length) return wrong;
  const said = new Map<number, number>();
  chart.twins.forEach((list, k) => list.forEach((bar) => said.set(bar, k)));
  for (let i = 0; i < wanted.length; i++)
    for (let j = i + 1; j < wanted.length; j++) {
      const isTwin = truth.classes[i] === truth.classes[j];
      const saidTwin = said.has(i) && said.get(i) === said.get(j);
      score.pairs++;
      if (isTwin) score.twins++;
      if (isTwin && saidTwin) score.twinsFound++;
      if (!isTwin && saidTwin) {
        score.twinsFalse++;
        wrong.push(`bars ${i} and ${j} are no twins`);
      }
      if (isTwin && !saidTwin) wrong.push(`bars ${i} and ${j} are twins`);
    }
  return wrong;
}
