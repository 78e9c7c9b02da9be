/**
 * How well bars of the same music are found on scans: `npx tsx tests/corpus/scans/twins.ts FOLDER … [--half report]
 * [--dpi 150] [--defects sound,faxed,scanned,photographed] [--wrong] [--rows FILE]`, a row for every engraver and defect, as a
 * table in Markdown. Half "even" is for tuning. A pair is false too where one of its bars is none. Rows say how unlike
 * the staves and the words of every pair are whose pictures can be laid on each other.
 */
import { appendFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { unlikeness } from '../../../src/core/find/alike/compare.ts';
import { wholeChart } from '../../../src/core/find/chart/index.ts';
import { settle, writtenOf } from '../../../src/core/find/chart/settle.ts';
import { looksOf } from '../../../src/core/find/chart/twins.ts';
import type { FoundPage } from '../../../src/core/find/types.ts';
import { chartOptions, filesOf, findIn } from './charts.ts';

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    ...chartOptions,
    wrong: { type: 'boolean', default: false },
    rows: { type: 'string' },
  },
});

interface Counts {
  charts: number;
  pairs: number;
  twins: number;
  found: number;
  wrong: number;
}
const table = new Map<string, Counts>();

/** Appends how unlike the bars of every pair are that can be laid on each other. */
function keepRows(
  to: string,
  name: string,
  found: readonly FoundPage[],
  classes: readonly (number | null)[],
): void {
  const looks = looksOf(writtenOf(settle(found)), found);
  looks.forEach((one, i) =>
    looks.slice(i + 1).forEach((other, k) => {
      if (one?.key == null || one.key !== other?.key) return;
      const { staves, words } = unlikeness(one.bar, other.bar, 15);
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
  const { truth, found, classes } = findIn(file, defect, Number(values.dpi));
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

for (const file of filesOf(positionals, values))
  for (const defect of values.defects.split(',')) count(file, defect);

console.log('| engraver | defect | charts | pairs | false twins | twins | twins found |');
console.log('| --- | --- | --- | --- | --- | --- | --- |');
for (const [key, { charts, pairs: all, twins, found, wrong }] of [...table].sort(([a], [b]) =>
  a.localeCompare(b),
))
  console.log(
    `| ${key} | ${charts} | ${all} | ${wrong} | ${twins} | ${(found / Math.max(1, twins)).toFixed(2)} |`,
  );
