/**
 * How well meters are read on scans: `npx tsx tests/corpus/scans/meters/report.ts FOLDER … [--half report] [--dpi 150]`,
 * a row for every engraver and defect, as a table in Markdown.
 */
import { parseArgs } from 'node:util';
import { meterAt } from '../../../../src/core/find/pixels/meter.ts';
import { meterOf } from '../../../../src/core/find/pixels/meter-shapes.ts';
import { isIn } from '../halves.ts';
import { sheetsIn, systemsOf } from './pages.ts';

/** From here on the stand believes it. */
const SAID = 0.95;
const DEFECTS = ['sound', 'faxed', 'scanned', 'photographed'];

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: { half: { type: 'string', default: 'report' }, dpi: { type: 'string', default: '150' } },
});
const text = (meter: ReturnType<typeof meterOf>) => (meter ? `${meter.beats}/${meter.value}` : 'none');

console.log('| engraver | defect | lines | said right | said wrong | nothing said where one stands |');
console.log('| --- | --- | --- | --- | --- | --- |');
const sheets = positionals.flatMap(sheetsIn).filter(({ seed }) => isIn[values.half]!(seed));
for (const engraver of new Set(sheets.map((sheet) => sheet.engraver)))
  for (const defect of DEFECTS) {
    let [lines, right, wrong, silent] = [0, 0, 0, 0];
    for (const sheet of sheets.filter((one) => one.engraver === engraver))
      for (const { straight, said } of systemsOf(sheet, defect, Number(values.dpi), sheet.seed)) {
        lines++;
        const found = meterAt(straight);
        const meter = found.sure >= SAID ? text(found.meter) : 'none';
        const wanted = said.map((one) => text(meterOf(one)));
        if (meter === 'none' && !wanted.includes('none')) silent++;
        else if (wanted.includes(meter)) right++;
        else wrong++;
      }
    console.log(`| ${engraver} | ${defect} | ${lines} | ${right} | ${wrong} | ${silent} |`);
  }
