/**
 * How well bars of the same music are found on scans: `npx tsx tests/corpus/scans/twins.ts FOLDER … [--half report]
 * [--dpi 150] [--defects sound,faxed,scanned,photographed] [--wrong] [--rows FILE]`, a row for every engraver and defect, as a
 * table in Markdown. Half "even" is for tuning. A pair is false too where one of its bars is none. Rows say how unlike
 * the staves and the words of every pair are whose pictures can be laid on each other.
 */
import { appendFileSync, existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { opened, unlikeness } from '../../../src/core/find/alike/compare.ts';
import { lineKeys } from '../../../src/core/find/alike/keys.ts';
import { wholeChart } from '../../../src/core/find/chart/index.ts';
import { settle, writtenOf, type Placed } from '../../../src/core/find/chart/settle.ts';
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
    rows: { type: 'string' },
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

/** Finds the bars of a spoilt file, and the class of the true bar that each is, by page and place on it. */
function findIn(
  file: string,
  truth: Truth,
  defect: string,
): { found: FoundPage[]; classes: Map<string, number> } {
  let first = 0;
  const classes = new Map<string, number>();
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
    for (const [i, j] of pairs(seen, wanted, 0.75)) classes.set(`${index} ${i}`, truth.classes[first + j]!);
    first += wanted.length;
    return one;
  });
  return { found, classes };
}

/** Appends how unlike the bars of every pair are that can be laid on each other. */
function keepRows(
  to: string,
  name: string,
  found: readonly FoundPage[],
  classes: readonly (number | null)[],
): void {
  const keys = lineKeys(found);
  const bars = writtenOf(settle(found)).map((parts) => {
    const [{ page, system, bar }, ...more] = parts as [Placed, ...Placed[]];
    const key = keys.get(`${page} ${system}`);
    return key === undefined || !bar.picture || more.length > 0 ? null : { key, look: opened(bar.picture) };
  });
  bars.forEach((one, i) =>
    bars.slice(i + 1).forEach((other, k) => {
      if (one?.key === undefined || one.key !== other?.key) return;
      const { staves, words } = unlikeness(one.look, other.look, 15);
      const isTwin = classes[i] !== null && classes[i] === classes[i + 1 + k];
      if (staves < 15)
        appendFileSync(
          to,
          `${name} ${i} ${i + 1 + k} ${isTwin ? 1 : 0} ${staves.toFixed(2)} ${words.toFixed(2)}\n`,
        );
    }),
  );
}

function count(file: string, defect: string): void {
  const truth = JSON.parse(readFileSync(file.replace('.pdf', '.truth.json'), 'utf8')) as Truth;
  const { found, classes: byPlace } = findIn(file, truth, defect);
  const classes = writtenOf(settle(found)).map((parts) =>
    parts.length > 1 ? null : (byPlace.get(`${parts[0]!.page} ${parts[0]!.index}`) ?? null),
  );
  if (values.rows !== undefined) keepRows(values.rows, `${file} ${defect}`, found, classes);
  const key = `${truth.engraver} | ${defect}`;
  const counts = table.get(key) ?? { charts: 0, pairs: 0, twins: 0, found: 0, wrong: 0 };
  table.set(key, counts);
  counts.charts++;
  const said = new Map(wholeChart(found).twins.flatMap((list, k) => list.map((bar) => [bar, k] as const)));
  for (let i = 0; i < classes.length; i++)
    for (let j = i + 1; j < classes.length; j++) {
      const isSaid = said.has(i) && said.get(i) === said.get(j);
      const isTwin = classes[i] !== null && classes[i] === classes[j];
      counts.pairs++;
      if (isTwin) counts.twins++;
      if (isTwin && isSaid) counts.found++;
      if (isTwin || !isSaid) continue;
      counts.wrong++;
      if (values.wrong) console.error(`${file} ${defect}: bars ${i} and ${j} are no twins`);
    }
}

for (const file of files) for (const defect of values.defects.split(',')) count(file, defect);

console.log('| engraver | defect | charts | pairs | false twins | twins | twins found |');
console.log('| --- | --- | --- | --- | --- | --- | --- |');
for (const [key, { charts, pairs: all, twins, found, wrong }] of [...table].sort(([a], [b]) =>
  a.localeCompare(b),
))
  console.log(
    `| ${key} | ${charts} | ${all} | ${wrong} | ${twins} | ${(found / Math.max(1, twins)).toFixed(2)} |`,
  );
