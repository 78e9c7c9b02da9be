/** The first page on the stand against a bare pdf.js viewer, as `try-charts` measures it. */
import { spawn } from 'node:child_process';
import { resolve } from 'node:path';
import { root } from './extension.ts';
import { measured, type Row } from './table.ts';

interface Tried {
  readonly firstPageMs?: number | null;
  readonly bareMs?: number | null;
}

export async function firstPageRow(): Promise<Row> {
  // The command builds into its own folder, whatever this run was told.
  const env = { ...process.env };
  delete env.HOLDFAST_DIST;
  const child = spawn(
    process.execPath,
    [resolve(root, 'src/cli/run.mjs'), 'try-charts', resolve(root, 'sample-pdfs/aaba.pdf')],
    { cwd: root, env, stdio: ['ignore', 'pipe', 'inherit'] },
  );
  let out = '';
  child.stdout.on('data', (chunk: Buffer) => (out += chunk.toString()));
  await new Promise((done) => child.once('close', done));
  const { firstPageMs, bareMs } = JSON.parse(out.trim() || '{}') as Tried;
  return measured({
    name: 'first page on the stand',
    figure: { value: firstPageMs ?? NaN, unit: 'ms' },
    baseline: { name: 'a bare pdf.js viewer', value: bareMs ?? NaN, unit: 'ms' },
    bound: { of: 'ratio', most: 1.1 },
    note: 'aaba.pdf, medians',
  });
}
