/**
 * Pages whose truth holds to the point: `npx tsx tests/corpus/scans/from-svg.ts FROM TO`. LilyPond's truth is
 * read off its SVG; its PDF of the same tune may be set a few points lower, as the two measure words apart. So
 * the SVG itself is printed here, and the truth laid beside it.
 */
import { copyFileSync, existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { print } from '../engravers/print.ts';
import type { Truth } from '../truth.ts';

const [from = '', to = ''] = process.argv.slice(2);
mkdirSync(to, { recursive: true });
const truths = readdirSync(from).filter((file) => file.endsWith('.truth.json'));
const names = truths
  .map((file) => file.replace('.truth.json', ''))
  .filter((name) => !existsSync(join(to, `${name}.pdf`)));
const jobs = names.map((name) => {
  const truth = JSON.parse(readFileSync(join(from, `${name}.truth.json`), 'utf8')) as Truth;
  const { width, height } = truth.pages[0]!;
  const numbered = truth.pages.map((_, i) =>
    truth.pages.length === 1 ? `${name}.svg` : `${name}-${i + 1}.svg`,
  );
  const pages = numbered.map((file) => readFileSync(join(from, file), 'utf8').replace(/^<\?xml[^>]*>/, ''));
  return { pages, width: (width / 72) * 96, height: (height / 72) * 96 };
});
for (const [i, pdf] of (await print(jobs)).entries()) {
  writeFileSync(join(to, `${names[i]!}.pdf`), pdf);
  copyFileSync(join(from, `${names[i]!}.truth.json`), join(to, `${names[i]!}.truth.json`));
}
