/**
 * Measures finding on scans: `npx tsx tests/corpus/scans/measure.ts FOLDER … [--dpi 150,200] [--defects all]
 * [--half report] [--from 0] [--to 10] [--first] [--worst] [--rows FILE]`. FOLDER holds PDFs with NAME.truth.json beside them. Every page is printed,
 * spoilt with a seed of its own, found, and compared with the truth, moved as the page was.
 *
 * A bar that no longer stands upright is measured by the upright box around it: the truth's four edges are
 * followed through the bend point by point, and the box around them is compared with the box found.
 */
import { writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { findPixels } from '../../../src/core/find/pixels/index.ts';
import { barsSeen, barsThere, filesIn, seedOf, truthOf } from './charts.ts';
import { defects, suffer } from './defects.ts';
import { isIn } from './halves.ts';
import { print } from './print.ts';
import { tallyOf, Tally } from './score.ts';

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    dpi: { type: 'string', default: '100,150,200,300' },
    defects: { type: 'string', default: defects.join(',') },
    half: { type: 'string', default: 'report' },
    from: { type: 'string', default: '0' },
    to: { type: 'string', default: '1000' },
    first: { type: 'boolean', default: false },
    worst: { type: 'boolean', default: false },
    rows: { type: 'string', default: '' },
  },
});

const chosen = filesIn(
  positionals,
  (seed) => isIn[values.half]!(seed) && seed >= Number(values.from) && seed < Number(values.to),
);

const table = new Map<string, Tally>();
/** How sure each bar was said to be, and whether its box and its bar lines are right. */
const rows: (readonly [sure: number, isRight: boolean])[] = [];
let seconds = 0;
let looked = 0;
for (const file of chosen) {
  const truth = truthOf(file);
  for (const [index, page] of truth.pages.slice(0, values.first ? 1 : undefined).entries())
    for (const dpi of values.dpi.split(',').map(Number)) {
      const printed = print(file, index, dpi);
      for (const defect of values.defects.split(',')) {
        const { picture, to } = suffer(printed, defect, seedOf(file) * 10 + index, dpi);
        const started = performance.now();
        const found = findPixels(picture, index, page);
        seconds += (performance.now() - started) / 1000;
        looked++;
        const tally = tallyOf(barsSeen(found, picture), barsThere(page, dpi, to));
        rows.push(...tally.rows);
        if (values.worst && (tally.at75 < tally.truth || tally.found > tally.truth))
          console.log(
            `${file} ${index} ${dpi} ${defect}: ${tally.at75} of ${tally.truth}, ${tally.found} found`,
          );
        for (const key of [
          `${defect} ${dpi}`,
          `all ${dpi}`,
          `${defect} all`,
          `${truth.engraver} all`,
          'all all',
        ]) {
          if (!table.has(key)) table.set(key, new Tally());
          table.get(key)!.add(tally);
        }
      }
    }
}

if (values.worst)
  for (const [what, count] of [...(table.get('all all')?.mistaken ?? [])].sort((a, b) => b[1] - a[1]))
    console.log(`${count} × ${what}`);
const share = (part: number, whole: number) => (whole === 0 ? '–' : (part / whole).toFixed(3));
console.log('defect        dpi  pages   bars  F1@.5  F1@.75  pages right  kinds  endings  sure≥.99 right');
for (const [key, t] of [...table].sort(([a], [b]) => a.localeCompare(b)))
  console.log(
    [
      key.split(' ')[0]!.padEnd(12),
      key.split(' ')[1]!.padStart(4),
      String(t.pages).padStart(6),
      String(t.truth).padStart(6),
      t.f1('at50').toFixed(3).padStart(6),
      t.f1('at75').toFixed(3).padStart(7),
      share(t.pagesRight, t.pages).padStart(12),
      share(t.kinds, t.sides).padStart(6),
      share(t.endingsRight, t.endings).padStart(8),
      `${share(t.sureRight, t.sure)} (${t.sure})`.padStart(15),
    ].join(' '),
  );
console.log(`${((seconds / looked) * 1000).toFixed(0)} ms a page in finding`);
if (values.rows) writeFileSync(values.rows, JSON.stringify(rows));
