/**
 * Pages that others have made: `npx tsx tests/corpus/outside.ts FOLDER` looks for bars in every PDF under a folder and
 * prints a line of JSON for each file: how many pages, which of them have bars ([page from 1, systems, bars]), and what
 * could not be read. There is no truth beside them: the pages are looked at by hand.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Names } from '../../src/core/find/engraved/index.ts';
import { findOnPage } from '../../src/core/find/page.ts';
import { openInk } from '../../src/pdf/node.ts';

const folder = process.argv[2] ?? '';
const files = readdirSync(folder, { recursive: true, encoding: 'utf8' })
  .filter((name) => /\.pdf$/i.test(name))
  .sort();
const total = { files: 0, pages: 0, withBars: 0, unread: 0 };
for (const name of files) {
  total.files++;
  const bars: (readonly [page: number, systems: number, bars: number])[] = [];
  const unread: string[] = [];
  let pages = 0;
  try {
    const file = await openInk(new Uint8Array(readFileSync(join(folder, name))));
    pages = file.pages;
    const names = new Names();
    for (let page = 0; page < pages; page++)
      try {
        const { systems } = await findOnPage(file, page, names);
        const count = systems.reduce((sum, system) => sum + system.bars.length, 0);
        if (count > 0) bars.push([page + 1, systems.length, count]);
      } catch (error) {
        unread.push(`page ${page + 1}: ${String(error)}`);
      }
    await file.destroy();
  } catch (error) {
    unread.push(String(error));
  }
  total.pages += pages;
  total.withBars += bars.length;
  total.unread += unread.length;
  process.stdout.write(`${JSON.stringify({ name, pages, bars, ...(unread.length > 0 && { unread }) })}\n`);
}
process.stdout.write(`${JSON.stringify(total)}\n`);
