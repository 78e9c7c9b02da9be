/**
 * `npm run bench [part …]`: figures as ratios to baselines measured in the same run, as a table and in bench.json.
 * No figure fails a run, since machines differ; what could not be measured does.
 */
import { resolve } from 'node:path';
import { bookRows } from './book.ts';
import { clickRow } from './clicks.ts';
import { inChromium } from './drive.ts';
import { drillRows } from './drill.ts';
import { buildExtension, root, sizeRow, type Built } from './extension.ts';
import { chosenRow, keptRow } from './first-page.ts';
import { findRows } from './find.ts';
import { foldRows } from './fold.ts';
import { snapshotRow } from './store.ts';
import { tunesRows } from './tunes.ts';
import { notMeasured, tableOf, writeRows, type Row } from './table.ts';

interface Part {
  readonly name: string;
  /** Most of the figure or of the ratio, shown when nothing came out. */
  readonly bound: Row['bound'];
  readonly measure: (built: () => Built) => Promise<Row[]> | Row[];
}

const parts: readonly Part[] = [
  { name: 'fold', bound: { of: 'figure', most: 1000 }, measure: foldRows },
  { name: 'size', bound: { of: 'figure', most: 3 }, measure: (built) => [sizeRow(built().dist)] },
  {
    name: 'open',
    bound: { of: 'ratio', most: 1.2 },
    measure: async (built) => [await inChromium(built().withBench, snapshotRow)],
  },
  {
    name: 'click',
    bound: { of: 'figure', most: 1 },
    measure: async (built) => [await inChromium(built().withBench, clickRow)],
  },
  {
    name: 'drill',
    bound: { of: 'ratio', most: 1.5 },
    measure: (built) => inChromium(built().withBench, drillRows),
  },
  {
    name: 'first-page',
    bound: { of: 'ratio', most: 1.1 },
    measure: async (built) => [await chosenRow(), await inChromium(built().withBench, keptRow)],
  },
  {
    name: 'find',
    bound: { of: 'ratio', most: 0.5 },
    measure: (built) => findRows(built().withBench),
  },
  { name: 'book', bound: { of: 'ratio', most: 1.1 }, measure: (built) => bookRows(built().withBench) },
  {
    name: 'tunes',
    bound: { of: 'ratio', most: 1.5 },
    measure: (built) => tunesRows(built().withBench),
  },
];

const wanted = process.argv.slice(2);
const unknown = wanted.find((name) => !parts.some((part) => part.name === name));
if (unknown !== undefined) {
  process.stderr.write(
    `bench: no part is called ${unknown}; there are ${parts.map((p) => p.name).join(', ')}\n`,
  );
  process.exit(1);
}

let made: Built | null = null;
const built = () => (made ??= buildExtension());
const rows: Row[] = [];
try {
  for (const part of parts) {
    if (wanted.length > 0 && !wanted.includes(part.name)) continue;
    const before = performance.now();
    try {
      rows.push(...(await part.measure(built)));
    } catch (error) {
      const why = error instanceof Error ? error.message.split('\n')[0]! : String(error);
      rows.push(notMeasured(part.name, part.bound, why));
      process.exitCode = 1;
    }
    process.stderr.write(`bench: ${part.name} took ${((performance.now() - before) / 1000).toFixed(1)} s\n`);
  }
} finally {
  (made as Built | null)?.remove();
}
writeRows(resolve(root, 'bench.json'), rows);
process.stdout.write(`${tableOf(rows)}\n`);
for (const { name, note } of rows) if (note) process.stdout.write(`${name}: ${note}\n`);
