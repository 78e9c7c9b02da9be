/**
 * Engraves the sample charts: LilyPond sources in, PDFs and their marks out.
 * Needs lilypond (2.24) and, for the scan, pdftoppm of poppler-utils.  Usage: node sample-pdfs/build.mjs
 */
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { PDFDocument } from 'pdf-lib';
import { forms } from './source/forms.mjs';
import { lie, place, pagesOf, standardise, tilt } from './source/pages.mjs';
import { scan } from './source/scan.mjs';

const here = import.meta.dirname;
const need = { lilypond: 'lilypond', pdftoppm: 'poppler-utils' };
for (const [program, from] of Object.entries(need))
  try {
    execFileSync(program, [program === 'lilypond' ? '--version' : '-v'], { stdio: 'ignore' });
  } catch {
    console.error(`${program} is missing: install ${from}, then run this again.`);
    process.exit(1);
  }

const work = mkdtempSync(join(tmpdir(), 'samples-'));
const lilypond = (...args) =>
  execFileSync('lilypond', ['--silent', '-dno-point-and-click', ...args], { cwd: join(here, 'source') });
const write = (name, marks, pdf) => {
  writeFileSync(join(here, `${name}.pdf`), pdf);
  writeFileSync(join(here, `${name}.marks.json`), JSON.stringify(marks, null, 1) + '\n');
};

try {
  const drawn = {};
  for (const [name, form] of Object.entries(forms)) {
    lilypond('-dbackend=svg', '-o', join(work, name), `${name}.ly`);
    lilypond('-o', join(work, name), `${name}.ly`);
    const svgs = readdirSync(work).filter((file) => RegExp(`^${name}(-\\d+)?\\.svg$`).test(file));
    const systems = pagesOf(svgs.sort().map((file) => readFileSync(join(work, file), 'utf8')));
    drawn[name] = {
      marks: place(systems, form),
      pdf: await standardise(readFileSync(join(work, `${name}.pdf`))),
    };
  }
  for (const name of ['first', 'aaba', 'endings', 'waltz', 'two-pages'])
    write(name, drawn[name].marks, drawn[name].pdf);

  const { pdf, degrees } = await scan(join(work, 'scanned.pdf'), work);
  write('scanned', tilt(drawn.scanned.marks, degrees, 210 / 297), pdf);

  const turned = await lie(drawn.waltz.pdf);
  write('rotated', drawn.waltz.marks, turned);

  const index = JSON.parse(readFileSync(join(here, 'index.json'), 'utf8'));
  for (const sample of index.samples) {
    const bytes = readFileSync(join(here, sample.file));
    sample.sha256 = createHash('sha256').update(bytes).digest('hex');
    sample.pages = (await PDFDocument.load(bytes)).getPageCount();
  }
  writeFileSync(join(here, 'index.json'), JSON.stringify(index, null, 2) + '\n');
  console.log(`${index.samples.length} samples engraved.`);
} finally {
  rmSync(work, { recursive: true });
}
