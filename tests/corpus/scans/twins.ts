/**
 * How well bars of the same music are found on scans: `npx tsx tests/corpus/scans/twins.ts FOLDER … [--half report]
 * [--dpi 150] [--defects sound,faxed,scanned,photographed] [--wrong]`, a row for every engraver and defect, as a table
 * in Markdown. Half "even" is for tuning. A pair is false too where one of its bars is none.
 */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { wholeChart } from '../../../src/core/find/chart/index.ts';
import { findPixels } from '../../../src/core/find/pixels/index.ts';
import type { FoundPage } from '../../../src/core/find/types.ts';
import type { Truth } from '../truth.ts';
import { suffer } from './defects.ts';
import { movedBox } from './labels.ts';
import { print } from './print.ts';
import { pairs, type Box } from './score.ts';

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    half: { type: 'string', default: 'report' },
    dpi: { type: 'string', default: '150' },
    defects: { type: 'string', default: 'sound,faxed,scanned,photographed' },
    wrong: { type: 'boolean', default: false },
  },
});
const dpi = Number(values.dpi);
const seedOf = (file: string) => Number(/-(\d+)\.pdf$/.exec(file)![1]);
const files = positionals.flatMap((folder) =>
  readdirSync(folder)
    .filter(
      (file) => /-\d+\.pdf$/.test(file) && existsSync(join(folder, file.replace('.pdf', '.truth.json'))),
    )
    .filter((file) => (seedOf(file) % 2 === 1) === (values.half === 'report'))
    .map((file) => join(folder, file)),
);

interface Counts {
  charts: number;
  pairs: number;
  twins: number;
  found: number;
  wrong: number;
}
const table = new Map<string, Counts>();

/** Found bars in reading order with the class of the true bar that each is; null where there is none. */
function classesOf(
  file: string,
  truth: Truth,
  defect: string,
): { found: FoundPage[]; classes: (number | null)[] } {
  let first = 0;
  const classes: (number | null)[] = [];
  const found = truth.pages.map((page, index) => {
    const { picture, to } = suffer(print(file, index, dpi), defect, seedOf(file) * 10 + index, dpi);
    const one = findPixels(picture, index, page);
    const { width, height } = picture;
    const seen = one.systems.flatMap(({ bars }) =>
      bars.map(({ box: [x0, y0, x1, y1] }): Box => [x0 * width, y0 * height, x1 * width, y1 * height]),
    );
    const wanted = page.systems.flatMap(({ bars }) =>
      bars.map(({ box }) => movedBox(box.map((v) => (v * dpi) / 72) as unknown as Box, to)),
    );
    const own = seen.map((): number | null => null);
    for (const [i, j] of pairs(seen, wanted, 0.75)) own[i] = truth.classes[first + j]!;
    classes.push(...own);
    first += wanted.length;
    return one;
  });
  return { found, classes };
}

for (const file of files)
  for (const defect of values.defects.split(',')) {
    const truth = JSON.parse(readFileSync(file.replace('.pdf', '.truth.json'), 'utf8')) as Truth;
    const { found, classes } = classesOf(file, truth, defect);
    const { twins } = wholeChart(found);
    const key = `${truth.engraver} | ${defect}`;
    const counts = table.get(key) ?? { charts: 0, pairs: 0, twins: 0, found: 0, wrong: 0 };
    table.set(key, counts);
    counts.charts++;
    const said = new Map(twins.flatMap((list, k) => list.map((bar) => [bar, k] as const)));
    classes.forEach((one, i) =>
      classes.slice(i + 1).forEach((other, k) => {
        const j = i + 1 + k;
        const isSaid = said.has(i) && said.get(i) === said.get(j);
        const isTwin = one !== null && one === other;
        counts.pairs++;
        counts.twins += Number(isTwin);
        counts.found += Number(isTwin && isSaid);
        counts.wrong += Number(isSaid && !isTwin);
        if (isSaid && !isTwin && values.wrong)
          console.error(`${file} ${defect}: bars ${i} and ${j} are no twins`);
      }),
    );
  }

console.log('| engraver | defect | charts | pairs | false twins | twins | twins found |');
console.log('| --- | --- | --- | --- | --- | --- | --- |');
for (const [key, { charts, pairs: all, twins, found, wrong }] of [...table].sort(([a], [b]) =>
  a.localeCompare(b),
))
  console.log(
    `| ${key} | ${charts} | ${all} | ${wrong} | ${twins} | ${(found / Math.max(1, twins)).toFixed(2)} |`,
  );
