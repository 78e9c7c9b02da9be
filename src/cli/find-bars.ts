/** `npm run -s find-bars -- FILE.pdf …`: systems, bars, route and twins of each file, one line of JSON each. */
import { readFile } from 'node:fs/promises';
import { wholeFile } from '../core/find/chart/tunes.ts';
import { Names } from '../core/find/engraved/index.ts';
import { findOnPage } from '../core/find/page.ts';
import type { FoundBar, FoundPage } from '../core/find/types.ts';
import type { PageBox } from '../core/chart/types.ts';
import { openInk } from '../pdf/node.ts';
import { BadInput, print, readArgs, resolvePath, run } from './args.ts';

async function main(): Promise<void> {
  const { positionals } = readArgs({}, true);
  if (positionals.length === 0) throw new BadInput('which files? find-bars FILE.pdf …');
  for (const file of positionals)
    try {
      print({ file, ...(await answer(resolvePath(file))) });
    } catch (error) {
      const message = error instanceof Error ? error.message : String(error);
      print({ file, error: message.split('\n')[0] });
      process.exitCode = 1;
    }
}

async function answer(path: string) {
  const opened = await openInk(new Uint8Array(await readFile(path)));
  try {
    const names = new Names();
    const found: FoundPage[] = [];
    for (let index = 0; index < opened.pages; index++) found.push(await findOnPage(opened, index, names));
    const { pages, route, twins } = wholeFile(found);
    return { pages: pages.map(pageOf), route, twins, signs: pages.flatMap(signsOf) };
  } finally {
    await opened.destroy();
  }
}

const round = (value: number, places: number) => Math.round(value * 10 ** places) / 10 ** places;

const points = ([x0, y0, x1, y1]: PageBox, { width, height }: FoundPage) =>
  [x0 * width, y0 * height, x1 * width, y1 * height].map((value) => round(value, 2));

function pageOf(page: FoundPage) {
  return {
    width: round(page.width, 2),
    height: round(page.height, 2),
    systems: page.systems.map((system) => ({
      box: points(system.box, page),
      staves: system.staves.length,
      bars: system.bars.map((bar) => barOf(bar, page)),
    })),
  };
}

function barOf({ box, left, right, ending, continues, sure }: FoundBar, page: FoundPage) {
  return {
    box: points(box, page),
    left,
    right,
    ...(ending === undefined ? {} : { ending }),
    ...(continues === undefined ? {} : { continues }),
    sure: round(sure, 3),
  };
}

function signsOf(page: FoundPage) {
  return page.signs.map(({ box, sure, ...sign }) => ({
    ...sign,
    box: points(box, page),
    sure: round(sure, 3),
  }));
}

await run('find-bars', main);
