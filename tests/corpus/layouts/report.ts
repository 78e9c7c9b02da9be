/**
 * `node --import tsx tests/corpus/layouts/report.ts [FOLDER]`: engraves the scores of `sources.ts` with LilyPond, finds
 * their bars, and prints for each what LilyPond drew and what was found.
 */
import { execFileSync } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { iou } from '../../../src/core/chart/place.ts';
import { findInInk } from '../../../src/core/find/engraved/index.ts';
import { openInk } from '../../../src/pdf/node.ts';
import { LINKED, linkedPages, LINKS } from '../engravers/lilypond-links.ts';
import { barsIn } from '../truth.ts';
import { layouts, type Layout } from './sources.ts';

const folder = process.argv[2] ?? '/tmp/holdfast-corpus/layouts';
mkdirSync(folder, { recursive: true });

const source = ({ scores, paper = '', layout = '' }: Layout) => `\\version "2.24.1"
${LINKS}
\\header { tagline = ##f }
\\paper { ${paper} }
\\layout { ${layout.startsWith('#') || layout.startsWith('\\context') ? layout : ''} \\context { \\Score ${LINKED} ${layout.startsWith('\\override') ? layout : ''} } }
${scores.map((score) => `\\score { ${score} }`).join('\n')}
`;

let wrong = 0;
for (const layout of layouts) {
  const path = join(folder, layout.name);
  const text = source(layout);
  if (!existsSync(`${path}.pdf`) || readFileSync(`${path}.ly`, 'utf8') !== text) {
    writeFileSync(`${path}.ly`, text);
    execFileSync('lilypond', ['--silent', '-dno-point-and-click', `${layout.name}.ly`], { cwd: folder });
  }
  const data = new Uint8Array(readFileSync(`${path}.pdf`));
  const truth = await linkedPages(data);
  const file = await openInk(data);
  const said: string[] = [];
  for (const [i, { systems }] of truth.entries()) {
    const page = findInInk(await file.ink(i), i);
    const found = page.systems.flatMap(({ bars }) => bars);
    const wanted = systems.flatMap((system) => barsIn(system));
    const matched = wanted.filter(({ box, right }) =>
      found.some((bar) => {
        const [x0, y0, x1, y1] = bar.box;
        const points = [x0 * page.width, y0 * page.height, x1 * page.width, y1 * page.height] as const;
        return iou(points, box) >= 0.75 && bar.right === right;
      }),
    ).length;
    const staves = page.systems.map((system) => system.staves.length).join();
    const drawn = systems.map((system) => system.staves).join();
    const open = found.filter(({ right }) => right === 'none').length;
    const isRight =
      matched === wanted.length &&
      found.length === wanted.length + open &&
      open === (layout.open ?? 0) &&
      staves === drawn;
    if (!isRight) {
      wrong++;
      said.push(
        `page ${i}: ${matched} of ${wanted.length} bars, ${found.length} found; staves ${staves}, drawn ${drawn}`,
      );
    }
  }
  await file.destroy();
  process.stdout.write(`${said.length === 0 ? 'right' : 'WRONG'} ${layout.name} ${said.join('; ')}\n`);
}
process.exitCode = wrong === 0 ? 0 : 1;
