/** The extension as it is packed, and a copy with the bench's own page in it. */
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, relative, resolve } from 'node:path';
import { zipSync } from 'fflate';
import { build } from '../../src/cli/try-charts/extension.ts';
import { measured, type Row } from './table.ts';

export const root = resolve(import.meta.dirname, '../..');

/** What is opened where a file is opened. */
export const SAMPLE = 'aaba.pdf';

export interface Built {
  /** As it is packed. */
  readonly dist: string;
  /** The same with bench/index.html, and the bare viewer with a sample in bare/. */
  readonly withBench: string;
  remove(): void;
}

export function buildExtension(): Built {
  const home = mkdtempSync(join(tmpdir(), 'holdfast-bench-'));
  const [dist, withBench] = [join(home, 'dist'), join(home, 'with-bench')];
  build([], { HOLDFAST_DIST: dist });
  cpSync(dist, withBench, { recursive: true });
  build(['--config', resolve(import.meta.dirname, 'page/vite.config.ts')], {
    BENCH_OUT: join(withBench, 'bench'),
  });
  build(['--config', resolve(root, 'tests/browser/bare/vite.config.ts')], {
    BARE_OUT: join(withBench, 'bare'),
  });
  cpSync(resolve(root, 'sample-pdfs', SAMPLE), join(withBench, 'bare', SAMPLE));
  return { dist, withBench, remove: () => rmSync(home, { recursive: true, force: true, maxRetries: 5 }) };
}

const MEGABYTE = 1_000_000;

/** The size of the packed extension, against its files unpacked. */
export function sizeRow(dist: string): Row {
  const files = readdirSync(dist, { recursive: true, withFileTypes: true }).filter((entry) => entry.isFile());
  const bytes = Object.fromEntries(
    files.map((entry) => {
      const path = join(entry.parentPath, entry.name);
      return [relative(dist, path), new Uint8Array(readFileSync(path))];
    }),
  );
  const unpacked = Object.values(bytes).reduce((sum, { length }) => sum + length, 0);
  return measured({
    name: 'packed extension',
    figure: { value: zipSync(bytes, { level: 9 }).length / MEGABYTE, unit: 'MB' },
    baseline: { name: 'its files unpacked', value: unpacked / MEGABYTE, unit: 'MB' },
    bound: { of: 'figure', most: 3 },
    note: `${files.length} files`,
  });
}
