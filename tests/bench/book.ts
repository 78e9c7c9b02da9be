/** A book of 300 pages and a scan at 600 dpi: the first page on the stand against a bare pdf.js viewer. */
import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
// @ts-expect-error -- plain JavaScript, as the browser tests are
import { corpus } from '../files/corpus.mjs';
import { root } from './extension.ts';
import { measured, type Row } from './table.ts';

const cases = corpus as readonly { readonly name: string; make(): Buffer }[];

interface Tried {
  readonly firstPageMs?: number | null;
  readonly bareMs?: number | null;
}

/** As `try-charts` measures it: medians of three in turn, each in fresh workers. */
export async function bookRows(): Promise<Row[]> {
  const folder = mkdtempSync(join(tmpdir(), 'holdfast-book-'));
  try {
    const names = ['book of 300 pages', 'colour 600 dpi 104 MB'];
    const files = names.map((name) => {
      const path = join(folder, `${name}.pdf`);
      writeFileSync(path, cases.find((each) => each.name === name)!.make());
      return path;
    });
    // The command builds into its own folder, whatever this run was told.
    const env = { ...process.env };
    delete env.HOLDFAST_DIST;
    const child = spawn(process.execPath, [resolve(root, 'src/cli/run.mjs'), 'try-charts', ...files], {
      cwd: root,
      env,
      stdio: ['ignore', 'pipe', 'inherit'],
    });
    let out = '';
    child.stdout.on('data', (chunk: Buffer) => (out += chunk.toString()));
    await new Promise((done) => child.once('close', done));
    const lines = out.trim().split('\n');
    return names.map((name, index) => {
      const { firstPageMs, bareMs } = JSON.parse(lines[index] || '{}') as Tried;
      return measured({
        name: `first page: ${name}`,
        figure: { value: firstPageMs ?? NaN, unit: 'ms' },
        baseline: { name: 'a bare pdf.js viewer', value: bareMs ?? NaN, unit: 'ms' },
        bound: { of: 'ratio', most: 1.1 },
        note: 'medians of three; memory is not measured',
      });
    });
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
