/**
 * Windows to learn signs from: `npx tsx tests/corpus/scans/signs/windows.ts OUT FOLDER … [--times 2] [--forms endings,three]`. FOLDER holds
 * pages of lines.ts, or charts of the corpus, of which the first pages are taken. Every page of an even seed is printed
 * and spoilt so many times; where something is written over a staff says the finder itself, what it is the page.
 */
import { appendFileSync, existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { parseArgs } from 'node:util';
import { placesAbove, windowAt, type WrittenPlace } from '../../../../src/core/find/pixels/above.ts';
import { straightOf } from '../../../../src/core/find/pixels/index.ts';
import { SIGNS, type Written } from '../../../../src/core/find/pixels/sign-shapes.ts';
import type { Straight } from '../../../../src/core/find/pixels/straight.ts';
import type { Box } from '../../truth.ts';
import { tuneOf } from '../../tunes/index.ts';
import { Random } from '../../tunes/random.ts';
import { suffer } from '../defects.ts';
import { movedBox } from '../labels.ts';
import { print } from '../print.ts';
import { chartSigns, linkedSigns, type SignBox } from './boxes.ts';

const DEFECTS = ['mixed', 'mixed', 'photographed', 'scanned', 'faxed', 'sound'];
const DPIS = [100, 150, 150, 200];
/** Of what says nothing of the form so much is learnt from. */
const NONE = 0.4;
/** What begins so far before or behind the left of a sign's box begins it, in spaces; a number stands in its bracket. */
const BEFORE = 0.8;
const BEHIND = 1;
const UNDER = 1.6;
const BELOW = 2;

/** The sign that begins at a place: boxes in pixels of the page as it was looked at. */
function signAt(
  straight: Straight,
  { x0, y0, y1 }: WrittenPlace,
  signs: readonly { readonly written: Written; readonly box: Box }[],
): Written {
  const [x, y] = straight.toPage(x0, (y0 + y1) / 2);
  const space = straight.toPage(x0 + straight.unit, (y0 + y1) / 2)[0] - x;
  const here = signs.filter(({ written, box }) => {
    const isEnding = written.startsWith('ending');
    const bottom = isEnding ? Math.min(box[3], box[1] + BELOW * space) : box[3] + 0.3 * space;
    const from = x - box[0];
    return (
      from > -BEFORE * space &&
      from < (isEnding ? UNDER : BEHIND) * space &&
      y > box[1] - 0.3 * space &&
      y < bottom
    );
  });
  here.sort((a, b) => Math.abs(x - a.box[0]) - Math.abs(x - b.box[0]));
  return here[0]?.written ?? 'none';
}

async function signsOn(path: string, seed: number): Promise<SignBox[] | null> {
  if (existsSync(path.replace('.pdf', '.truth.json'))) return chartSigns(path, tuneOf(seed));
  return linkedSigns(readFileSync(path));
}

async function main(): Promise<void> {
  const { values, positionals } = parseArgs({
    allowPositionals: true,
    options: {
      times: { type: 'string', default: '2' },
      forms: { type: 'string', default: '' },
    },
  });
  const [out = '', ...folders] = positionals;
  writeFileSync(out, '');
  const counts = SIGNS.map(() => 0);
  let [signsThere, placed] = [0, 0];
  for (const folder of folders)
    for (const file of readdirSync(folder)
      .filter((one) => one.endsWith('.pdf'))
      .sort()) {
      const path = join(folder, file);
      const seed = Number(/(\d+)\.pdf$/.exec(file)?.[1] ?? 1);
      const isLeftOut =
        values.forms !== '' && !values.forms.split(',').includes(file.replace(/-\d+\.pdf$/, ''));
      const signs = seed % 2 === 1 || isLeftOut ? null : await signsOn(path, seed);
      if (signs === null) continue;
      const random = new Random(seed * 103 + basename(folder).length);
      for (let time = 0; time < Number(values.times); time++) {
        const [defect, dpi] = [random.pick(DEFECTS), random.pick(DPIS)];
        const { picture, to } = suffer(print(path, 0, dpi), defect, seed * 1000 + time, dpi);
        const page = straightOf(picture);
        const zoom = page.width / picture.width;
        const moved = signs.map(({ written, box: [x0, y0, x1, y1] }) => {
          const wide = written.startsWith('ending') ? 3 * (y1 - y0) : x1 - x0;
          const printed = [x0, y0, Math.min(x1, x0 + wide), y1].map((v) => (v * dpi) / 72) as Box;
          return { written, box: movedBox(printed, to).map((v) => v * zoom) as Box };
        });
        signsThere += moved.filter(({ written }) => written !== 'none').length;
        for (const straight of page.systems)
          for (const place of placesAbove(straight)) {
            const answer = SIGNS.indexOf(signAt(straight, place, moved));
            if (answer > 0) placed++;
            if (answer === 0 && !random.chance(NONE)) continue;
            counts[answer]!++;
            const head = JSON.stringify({
              seed,
              answer,
              engraver: basename(folder),
              defect,
            });
            appendFileSync(out, Buffer.concat([Buffer.from(`${head}\n`), windowAt(straight, place).data]));
          }
      }
    }
  console.log(`${signsThere} signs, ${placed} places where one begins`);
  console.log(SIGNS.map((written, i) => `${written}: ${counts[i]}`).join(', '));
}

await main();
