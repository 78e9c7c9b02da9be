/**
 * Strips to learn from: `npx tsx tests/corpus/scans/strips.ts OUT FOLDER … [--times 4]`. Every page of the charts
 * of even seeds in the folders is printed and spoilt so many times, each time at another resolution; its staves
 * are traced and pulled straight by the finder itself, and what stands where comes from the truth. Pages
 * without music, on which the finder sees staves, are strips on which nothing stands.
 */
import { existsSync, readdirSync, readFileSync, writeFileSync, appendFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { straightOf, type Picture } from '../../../src/core/find/pixels/index.ts';
import { stripOf } from '../../../src/core/find/pixels/strip.ts';
import type { Truth } from '../truth.ts';
import { Random } from '../tunes/random.ts';
import { suffer } from './defects.ts';
import { linesOn, movedSystem, type MovedSystem } from './labels.ts';
import { pageWithoutMusic } from './no-music.ts';
import { print } from './print.ts';

const DEFECTS = [
  'mixed',
  'mixed',
  'mixed',
  'mixed',
  'photographed',
  'photographed',
  'scanned',
  'scanned',
  'faxed',
  'faxed',
  'sound',
  'sound',
  'sound',
];
const DPIS = [100, 150, 150, 150, 200, 200, 300];
/** Pages without music that have level lines. */
const STAFFLIKE = ['ruled', 'table', 'graph'];

function main(): void {
  const { values, positionals } = parseArgs({
    allowPositionals: true,
    options: { times: { type: 'string', default: '4' }, without: { type: 'string', default: '60' } },
  });
  const [out = '', ...folders] = positionals;
  writeFileSync(out, '');
  let count = 0;
  const add = (picture: Picture, systems: readonly MovedSystem[], about: object) => {
    const page = straightOf(picture);
    for (const straight of page.systems)
      for (const k of straight.tops.keys()) {
        const strip = stripOf(straight, k);
        const lines = linesOn(straight, k, systems, page.width / picture.width);
        // A staff that only the truth does not know says nothing.
        if (lines === null && systems.length > 0) continue;
        const head = JSON.stringify({
          ...about,
          rows: strip.rows,
          columns: strip.columns,
          lines: lines ?? [],
        });
        appendFileSync(out, Buffer.concat([Buffer.from(`${head}\n`), strip.data]));
        count++;
      }
  };
  const seedOf = (file: string) => Number(/(\d+)\.pdf$/.exec(file)?.[1] ?? 1);
  for (const folder of folders)
    for (const file of readdirSync(folder).sort((a, b) => seedOf(a) - seedOf(b))) {
      const seed = seedOf(file);
      const path = join(folder, file);
      const known = path.replace('.pdf', '.truth.json');
      if (seed % 2 === 1 || !existsSync(known)) continue;
      const truth = JSON.parse(readFileSync(known, 'utf8')) as Truth;
      const random = new Random(seed * 101 + folder.length);
      for (const [index, page] of truth.pages.entries())
        for (let time = 0; time < Number(values.times); time++) {
          const [defect, dpi] = [random.pick(DEFECTS), random.pick(DPIS)];
          const { picture, to } = suffer(
            print(path, index, dpi),
            defect,
            seed * 1000 + index * 100 + time,
            dpi,
          );
          const systems = page.systems.map((system) => movedSystem(system, dpi / 72, to));
          add(picture, systems, { engraver: truth.engraver, seed, defect, dpi });
        }
    }
  for (let seed = 0; seed < Number(values.without); seed += 2)
    add(pageWithoutMusic(STAFFLIKE[(seed >> 1) % STAFFLIKE.length]!, seed), [], {
      engraver: 'none',
      seed,
      defect: 'none',
      dpi: 150,
    });
  console.log(`${count} strips`);
}

main();
