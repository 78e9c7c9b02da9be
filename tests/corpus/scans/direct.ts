/**
 * Compares bars found straight from a scan's decoded picture with those found as pdf.js draws the page:
 * `npx tsx tests/corpus/scans/direct.ts FOLDER … [--dpi 100,150,200,300] [--defects sound,scanned] [--half tuning]`.
 * First pages are printed, spoilt and put into a PDF as one grey picture, deflated.
 */
import { parseArgs } from 'node:util';
import { findPixels } from '../../../src/core/find/pixels/index.ts';
import type { Picture } from '../../../src/core/find/pixels/index.ts';
import { openInk } from '../../../src/pdf/node.ts';
// @ts-expect-error -- plain JavaScript, as the browser tests are
import * as pdf from '../../files/pdf.mjs';
import { barsSeen, barsThere, filesIn, seedOf, truthOf } from './charts.ts';
import { suffer } from './defects.ts';
import { isIn } from './halves.ts';
import { print } from './print.ts';
import { tallyOf, Tally } from './score.ts';

const { picturePage, packed } = pdf as {
  picturePage: (image: Uint8Array, size: { width: number; height: number }) => Uint8Array;
  packed: (data: Uint8Array, dictionary: string) => Uint8Array;
};
const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    dpi: { type: 'string', default: '100,150,200,300' },
    defects: { type: 'string', default: 'sound,scanned' },
    half: { type: 'string', default: 'tuning' },
  },
});

const scanOf = ({ width, height, data }: Picture) =>
  packed(
    data,
    `/Type /XObject /Subtype /Image /Width ${width} /Height ${height} /ColorSpace /DeviceGray /BitsPerComponent 8`,
  );

const tables = { direct: new Map<string, Tally>(), drawn: new Map<string, Tally>() };
for (const file of filesIn(positionals, isIn[values.half]!)) {
  const page = truthOf(file).pages[0]!;
  for (const dpi of values.dpi.split(',').map(Number)) {
    const printed = print(file, 0, dpi);
    for (const defect of values.defects.split(',')) {
      const { picture, to } = suffer(printed, defect, seedOf(file) * 10, dpi);
      const size = { width: (picture.width * 72) / dpi, height: (picture.height * 72) / dpi };
      const opened = await openInk(new Uint8Array(picturePage(scanOf(picture), size)));
      const both = { direct: await opened.scanned(0), drawn: await opened.drawn(0) };
      await opened.destroy();
      for (const how of ['direct', 'drawn'] as const) {
        const looked = both[how];
        if (!looked) throw new Error(`${file} at ${dpi} dpi has to be drawn`);
        const tally = tallyOf(barsSeen(findPixels(looked, 0, size), picture), barsThere(page, dpi, to));
        for (const key of [`${defect} ${dpi}`, 'all']) {
          if (!tables[how].has(key)) tables[how].set(key, new Tally());
          tables[how].get(key)!.add(tally);
        }
      }
    }
  }
}

console.log('what             how     pages   bars  F1@.75  pages right  kinds  sure≥.99 right');
for (const key of [...tables.direct.keys()].sort())
  for (const how of ['direct', 'drawn'] as const) {
    const t = tables[how].get(key)!;
    console.log(
      [
        key.padEnd(16),
        how.padEnd(6),
        String(t.pages).padStart(6),
        String(t.truth).padStart(6),
        t.f1('at75').toFixed(3).padStart(7),
        (t.pagesRight / t.pages).toFixed(3).padStart(12),
        (t.kinds / t.sides).toFixed(3).padStart(6),
        `${(t.sureRight / t.sure).toFixed(3)} (${t.sure})`.padStart(15),
      ].join(' '),
    );
  }
