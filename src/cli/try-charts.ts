/**
 * `npm run -s try-charts -- [--browser chromium|firefox] [--shots DIR] FILE.pdf …`: opens each file in the real
 * extension as the file picker would. One line of JSON a file.
 */
import { accessSync, constants, mkdirSync, rmSync } from 'node:fs';
import { basename, join } from 'node:path';
import { BadInput, fail, print, readArgs, resolvePath, run } from './args.ts';
import { launch, type Driver } from './try-charts/driver.ts';
import { extensionWithBare } from './try-charts/extension.ts';
import { forget, openBare, openOnStand } from './try-charts/open.ts';

/** Times of the first page are the median of so many, the stand and the bare viewer in turn. */
const TURNS = 3;

const median = (values: readonly number[]) => [...values].sort((a, b) => a - b)[values.length >> 1]!;

/** Every opening has a page of its own and an empty store, so that no turn profits from the one before. */
async function tryChart(driver: Driver, path: string, shot: string | null) {
  const own: number[] = [];
  const bare: number[] = [];
  for (;;) {
    const page = await driver.openPage('tunes/index.html');
    const seen = await openOnStand(page, path);
    const { opened, pages, bars, message } = seen;
    if (shot !== null && own.length === 0) await page.screenshot({ path: shot });
    await page.close();
    if (seen.ms !== null) own.push(seen.ms);
    if (seen.like) {
      const other = await driver.openPage(`bare/index.html#${seen.like.join(',')}`);
      bare.push(await openBare(other, path));
      await forget(other);
      await other.close();
    }
    if (opened && own.length < TURNS) continue;
    return {
      opened,
      pages,
      bars,
      message,
      firstPageMs: opened ? Math.round(median(own)) : null,
      bareMs: opened ? Math.round(median(bare)) : null,
      shot,
    };
  }
}

/** Names of shots: the file's, with a number where two files are named alike. */
function shotNames(files: readonly string[]): string[] {
  const used = new Map<string, number>();
  return files.map((file) => {
    const name = basename(file).replace(/\.pdf$/i, '');
    const count = (used.get(name) ?? 0) + 1;
    used.set(name, count);
    return count === 1 ? `${name}.png` : `${name}-${count}.png`;
  });
}

await run('try-charts', async () => {
  const { values, positionals } = readArgs(
    { browser: { type: 'string', default: 'chromium' }, shots: { type: 'string' } },
    true,
  );
  const { browser, shots } = values;
  if (browser !== 'chromium' && browser !== 'firefox')
    throw new BadInput(`--browser must be chromium or firefox, not "${browser}"`);
  if (positionals.length === 0) throw new BadInput('no file was named');
  const folder = shots === undefined ? null : resolvePath(shots);
  if (folder !== null) mkdirSync(folder, { recursive: true });
  const names = shotNames(positionals);

  const extension = extensionWithBare();
  try {
    const driver = await launch(browser, { extension, size: { width: 1440, height: 900 } });
    try {
      for (const [index, file] of positionals.entries())
        try {
          const path = resolvePath(file);
          accessSync(path, constants.R_OK);
          const shot = folder === null ? null : join(folder, names[index]!);
          print({ file, ...(await tryChart(driver, path, shot)) });
        } catch (error) {
          print({ file, error: error instanceof Error ? error.message.split('\n')[0] : String(error) });
          fail('try-charts', error);
        }
    } finally {
      await driver.close();
    }
  } finally {
    rmSync(extension, { recursive: true, force: true });
  }
});
