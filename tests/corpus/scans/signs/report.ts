/**
 * How well the form is read on scans: `npx tsx tests/corpus/scans/signs/report.ts FOLDER … [--half report] [--from 0]
 * [--to 1000] [--dpi 150] [--defects sound,scanned] [--forms endings,three] [--wrong]`, charts of one page, a row for
 * every engraver and defect as a table in Markdown; halves are those of `halves.ts`. A sign is right when it is said of
 * the bar that says it, by how the tune was made.
 */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { parseArgs } from 'node:util';
import { wholeChart } from '../../../../src/core/find/chart/index.ts';
import { findPixels } from '../../../../src/core/find/pixels/index.ts';
import type { FoundPage } from '../../../../src/core/find/types.ts';
import type { TrueBar, Truth } from '../../truth.ts';
import { tuneOf } from '../../tunes/index.ts';
import { suffer } from '../defects.ts';
import { isIn } from '../halves.ts';
import { movedBox } from '../labels.ts';
import { print } from '../print.ts';
import { pairs, type Box } from '../score.ts';
import { saysOf, writtenOf } from './boxes.ts';

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    half: { type: 'string', default: 'report' },
    dpi: { type: 'string', default: '150' },
    defects: { type: 'string', default: 'sound,faxed,scanned,photographed' },
    forms: { type: 'string', default: '' },
    from: { type: 'string', default: '0' },
    to: { type: 'string', default: '1000' },
    wrong: { type: 'boolean', default: false },
  },
});
const dpi = Number(values.dpi);

interface Row {
  charts: number;
  routes: number;
  bars: number;
  endings: number;
  said: Record<string, [right: number, wrong: number, unsaid: number]>;
}
const GROUPS = ['jumps', 'sections'];
const groupOf = (written: string) => (written.startsWith('section') ? 'sections' : 'jumps');
const emptyRow = (): Row => ({
  charts: 0,
  routes: 0,
  bars: 0,
  endings: 0,
  said: { jumps: [0, 0, 0], sections: [0, 0, 0] },
});

/** Bars of the page found, as bars of the truth: −1 where none stands. */
function trueBars(found: FoundPage, boxes: readonly Box[], width: number, height: number): number[] {
  const seen = found.systems.flatMap(({ bars }) =>
    bars.map(({ box: [x0, y0, x1, y1] }): Box => [x0 * width, y0 * height, x1 * width, y1 * height]),
  );
  const match = new Map(pairs(seen, boxes, 0.5));
  return seen.map((_, i) => match.get(i) ?? -1);
}

/** What else a route may fail by: bars missed and bars that are none, kinds of bar lines, the pickup. */
function wrongBars(found: FoundPage, bars: readonly TrueBar[], match: readonly number[], isPickup: boolean) {
  const wrong: string[] = [];
  const seen = found.systems.flatMap((system) => system.bars);
  for (const [i, bar] of bars.entries()) {
    const one = seen[match.indexOf(i)];
    if (one === undefined) wrong.push(`bar ${i} missed`);
    else if (one.right !== bar.right) wrong.push(`bar ${i} ends ${one.right}, not ${bar.right}`);
  }
  const none = match.filter((i) => i < 0).length;
  if (none > 0) wrong.push(`${none} found that are no bars`);
  if (isPickup !== (seen[0]?.pickup === true))
    wrong.push(isPickup ? 'pickup unsaid' : 'said pickup that is none');
  return wrong;
}

function add(row: Row, path: string, defect: string): string[] {
  const truth = JSON.parse(readFileSync(path.replace('.pdf', '.truth.json'), 'utf8')) as Truth;
  const [page] = truth.pages;
  if (page === undefined || truth.pages.length > 1) return [];
  const tune = tuneOf(Number(/(\d+)$/.exec(truth.tune)![1]));
  const { picture, to } = suffer(print(path, 0, dpi), defect, tune.seed * 10, dpi);
  const found = findPixels(picture, 0, page);
  const bars = page.systems.flatMap((system) => system.bars);
  const boxes = bars.map(({ box }) => movedBox(box.map((v) => (v * dpi) / 72) as unknown as Box, to));
  const chart = wholeChart([found]);
  const settled = chart.pages[0]!;
  const match = trueBars(settled, boxes, picture.width, picture.height);
  const wrong: string[] = [];
  row.charts++;
  if (chart.route.join() === truth.route.join()) row.routes++;
  else wrong.push('route');
  wrong.push(...wrongBars(settled, bars, match, tune.bars[0]!.pickup === true));
  const endings = settled.systems.flatMap((system) => system.bars.map(({ ending }) => String(ending ?? '')));
  for (const [i, { ending }] of bars.entries()) {
    const at = match.indexOf(i);
    const said = at < 0 ? '–' : endings[at]!;
    const wanted = String(ending ?? '');
    if (wanted === '' && (said === '' || said === '–')) continue;
    row.bars++;
    if (said === wanted) row.endings++;
    else wrong.push(`bar ${i}: ending ${said || 'none'}, not ${wanted || 'none'}`);
  }
  const wanted = bars.flatMap((_, i) =>
    saysOf(tune.bars[i])
      .filter((written) => !written.startsWith('ending'))
      .map((written) => `${written} @${i}`),
  );
  const left = new Set(wanted);
  for (const sign of settled.signs) {
    const written = writtenOf(sign);
    if (written === null || written.startsWith('ending')) continue;
    const counts = row.said[groupOf(written)]!;
    const here = `${written} @${match[sign.bar] ?? -1}`;
    if (left.delete(here)) counts[0]++;
    else {
      counts[1]++;
      wrong.push(`said ${here} (${sign.sure.toFixed(3)})`);
    }
  }
  for (const one of left) {
    row.said[groupOf(one)]![2]++;
    wrong.push(`unsaid ${one}`);
  }
  return wrong;
}

const share = (part: number, whole: number) => (whole === 0 ? '–' : (part / whole).toFixed(3));
console.log('| engraver | defect | charts | endings | jumps: right / wrong / unsaid | sections | routes |');
console.log('| --- | --- | --- | --- | --- | --- | --- |');
const forms = values.forms === '' ? null : values.forms.split(',');
for (const folder of positionals)
  for (const defect of values.defects.split(',')) {
    const row = emptyRow();
    for (const file of readdirSync(folder).sort()) {
      const [, form = '', seed = ''] = /^(\w+)-(\d+)\.pdf$/.exec(file) ?? [];
      const path = join(folder, file);
      if (seed === '' || !isIn[values.half]!(Number(seed)) || (forms && !forms.includes(form))) continue;
      if (Number(seed) < Number(values.from) || Number(seed) >= Number(values.to)) continue;
      if (!existsSync(path.replace('.pdf', '.truth.json'))) continue;
      const wrong = add(row, path, defect);
      if (values.wrong && wrong.length > 0)
        console.error(`${basename(folder)} ${file} ${defect}: ${wrong.join('; ')}`);
    }
    const said = GROUPS.map((group) => row.said[group]!.join(' / '));
    console.log(
      `| ${basename(folder)} | ${defect} | ${row.charts} | ${share(row.endings, row.bars)} (${row.bars}) | ${said.join(' | ')} | ${share(row.routes, row.charts)} |`,
    );
  }
