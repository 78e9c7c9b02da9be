/**
 * Pages of an engraver that is in no corpus and does not say where it drew what: `npx tsx tests/corpus/unplaced.ts FROM TO
 * [ink|DEFECT] [FOLDER]` engraves the tunes of these seeds with PMW and compares how many bars are found, their bar lines and
 * endings in their order, the route, and, where every bar is found, the twins. With a defect (`scans/defects.ts`) pages are printed at 150 dpi first. Nothing
 * may be learnt from them.
 */
import { readFileSync } from 'node:fs';
import { wholeChart } from '../../src/core/find/chart/index.ts';
import { Names } from '../../src/core/find/engraved/index.ts';
import { findOnPage } from '../../src/core/find/page.ts';
import { findPixels } from '../../src/core/find/pixels/index.ts';
import type { FoundPage } from '../../src/core/find/types.ts';
import { openInk } from '../../src/pdf/node.ts';
import { engrave, forPmw } from './engravers/pmw.ts';
import { suffer } from './scans/defects.ts';
import { print } from './scans/print.ts';
import { tuneOf } from './tunes/index.ts';
import type { Tune } from './tunes/types.ts';

const DPI = 150;

const [from = '0', to = '60', how = 'ink', folder = '/tmp/holdfast-unplaced'] = process.argv.slice(2);

async function pagesOf(path: string, seed: number): Promise<FoundPage[]> {
  const file = await openInk(new Uint8Array(readFileSync(path)));
  const pages: FoundPage[] = [];
  const names = new Names();
  for (let index = 0; index < file.pages; index++)
    if (how === 'ink') pages.push(await findOnPage(file, index, names));
    else {
      const { width, height } = await file.ink(index);
      const { picture } = suffer(print(path, index, DPI), how, seed * 10 + index, DPI);
      pages.push(findPixels(picture, index, { width, height }));
    }
  await file.destroy();
  return pages;
}

/** How each bar ends, and under which ending: a repeat that begins where a line does is that line's. */
const endsOf = ({ bars }: Tune): string[] =>
  bars.map((bar, i) => {
    const next = bars[i + 1];
    const kind = bar.repeatEnd
      ? 'repeat-end'
      : !next
        ? 'final'
        : next.repeatStart
          ? 'repeat-start'
          : bar.double
            ? 'double'
            : 'single';
    return `${kind} ${bar.ending ?? ''}`;
  });

/** Which pairs of bars were made alike and which are said to be twins; those said and wrong. */
function countTwins({ classes, bars }: Tune, twins: readonly (readonly number[])[]): string[] {
  const said = new Map(twins.flatMap((list, k) => list.map((bar) => [bar, k] as const)));
  const wrong: string[] = [];
  for (let i = 0; i < bars.length; i++)
    for (let j = i + 1; j < bars.length; j++) {
      const [is, isSaid] = [classes[i] === classes[j], said.has(i) && said.get(i) === said.get(j)];
      total.pairs++;
      total.twins += Number(is);
      total.twinsFound += Number(is && isSaid);
      total.twinsFalse += Number(!is && isSaid);
      if (!is && isSaid) wrong.push(`bars ${i} and ${j} are no twins`);
    }
  return wrong;
}

const total = {
  charts: 0,
  bars: 0,
  withAllBars: 0,
  endsRight: 0,
  routesRight: 0,
  pairs: 0,
  twins: 0,
  twinsFound: 0,
  twinsFalse: 0,
};
for (let seed = Number(from); seed < Number(to); seed++) {
  const tune = forPmw(tuneOf(seed));
  if (!tune) continue;
  const chart = wholeChart(await pagesOf(engrave(tune, folder), seed));
  const bars = chart.pages.flatMap(({ systems }) => systems.flatMap((system) => system.bars));
  const said = bars.map(({ right, ending = [] }) => `${right.replace('both', 'end')} ${ending.join()}`);
  const there = endsOf(tune);
  const isWhole = said.length === there.length;
  const wrong = isWhole
    ? there.flatMap((end, i) => (end === said[i] ? [] : [`bar ${i} ${said[i]!}, is ${end}`]))
    : [];
  const isRoute = chart.route.join() === tune.route.join();
  total.charts++;
  total.bars += there.length;
  total.withAllBars += Number(isWhole);
  total.endsRight += isWhole ? there.length - wrong.length : 0;
  total.routesRight += Number(isRoute);
  if (!isWhole) wrong.push(`${said.length} bars of ${there.length}`);
  if (!isRoute) wrong.push('another route');
  if (isWhole) wrong.push(...countTwins(tune, chart.twins));
  if (wrong.length > 0) console.log(`${tune.name}: ${wrong.join('; ')}`);
}
console.log(JSON.stringify(total));
