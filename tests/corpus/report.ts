/**
 * `node --import tsx tests/corpus/report.ts [tuning|report] [FOLDER] [ENGRAVER] [--wrong] [--unnamed]`: finds bars in the corpus
 * and prints a table, one row an engraver. Tunes of even seeds are for tuning, odd ones are held apart. With --unnamed
 * LilyPond's signs lose their names, but for digits, as in fonts that have them on the keys of a typewriter.
 */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { wholeChart } from '../../src/core/find/chart/index.ts';
import { findInInk } from '../../src/core/find/engraved/index.ts';
import type { PageInk } from '../../src/core/find/types.ts';
import { openInk } from '../../src/pdf/node.ts';
import { emptyScore, measure, type Score } from './measure.ts';
import type { Truth } from './truth.ts';

const args = process.argv.slice(2);
const [half = 'tuning', root = '/tmp/holdfast-corpus', only] = args.filter((arg) => !arg.startsWith('--'));
const showWrong = args.includes('--wrong');
const isUnnamed = args.includes('--unnamed');

const DIGIT = /(?:^|\.)(zero|one|two|three|four|five|six|seven|eight|nine|period)(?:\.alt)?$/;

/** A page whose music font says neither what its signs are nor that it is LilyPond's. */
const unnamed = (page: PageInk): PageInk => ({
  ...page,
  ink: page.ink.map((one) => {
    if (one.kind !== 'glyph' || !/emmentaler/i.test(one.font)) return one;
    const other = { ...one, font: 'Quay-Music' };
    return DIGIT.test(one.name) ? other : { ...other, name: 'oe', unicode: 'q' };
  }),
});
const isMine = (file: string) => (Number(/-(\d+)\./.exec(file)![1]) % 2 === 0) === (half === 'tuning');

const share = (part: number, whole: number) => (whole === 0 ? '–' : (part / whole).toFixed(4));

function row(name: string, s: Score): string {
  const precision = s.matched / s.found;
  const recall = s.matched / s.bars;
  const f1 = (2 * precision * recall) / (precision + recall);
  return `| ${[
    name,
    s.charts,
    s.bars,
    f1.toFixed(4),
    share(s.chartsWithAllSystems, s.charts),
    share(s.kindsRight, s.kinds),
    share(s.endingsRight, s.endings),
    share(s.routesRight, s.routes),
    s.pairs,
    s.twinsFalse,
    share(s.twinsFound, s.twins),
    share(s.sureRight, s.sure),
  ].join(' | ')} |`;
}

const lines = [
  '| engraver | charts | bars | F1 at IoU 0.75 | charts with every system right | kinds | endings | routes | pairs | false twins | twins found | right of those ≥ 0.99 sure |',
  '| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |',
];
for (const engraver of readdirSync(root)) {
  if (only !== undefined && only !== engraver) continue;
  const folder = join(root, engraver);
  const score = emptyScore();
  for (const file of readdirSync(folder)
    .filter((name) => name.endsWith('.truth.json') && isMine(name))
    .sort()) {
    const truth = JSON.parse(readFileSync(join(folder, file), 'utf8')) as Truth;
    const pdf = join(folder, `${truth.tune}.pdf`);
    if (!existsSync(pdf)) continue;
    const opened = await openInk(new Uint8Array(readFileSync(pdf)));
    const pages = [];
    for (let i = 0; i < opened.pages; i++) {
      const ink = await opened.ink(i);
      pages.push(findInInk(isUnnamed ? unnamed(ink) : ink, i));
    }
    await opened.destroy();
    const chart = wholeChart(pages);
    const wrong = measure(score, truth, chart.pages, chart);
    if (showWrong && wrong.length > 0)
      process.stderr.write(
        `${engraver}/${truth.tune}\n${wrong
          .slice(0, 12)
          .map((line) => `  ${line}\n`)
          .join('')}`,
      );
  }
  if (score.charts > 0) lines.push(row(engraver, score));
}
process.stdout.write(`${lines.join('\n')}\n`);
