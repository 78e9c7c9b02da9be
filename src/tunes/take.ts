/** Files that come onto the shelf: read far enough to know what they are. */
import { isPdf } from '../core/chart/naming.ts';
import type { ChartKey } from '../core/log/events.ts';
import { headOf } from '../host/head.ts';
import { ChartProblem } from '../host/problem.ts';
import { takeIn } from '../store/intake.ts';
import type { Store } from '../store/types.ts';

/** A save is JSON or a zip: '{' or 'PK' at its start. */
const maySave = (head: Uint8Array) => head[0] === 0x7b || (head[0] === 0x50 && head[1] === 0x4b);

/** One file: a PDF gives its chart's key, a save is to be merged. Throws ChartProblem for anything else. */
export async function takeFile(
  store: Store,
  file: File,
): Promise<{ readonly chart: ChartKey | null; readonly save: File | null }> {
  const head = await headOf(file, file.name);
  if (isPdf(head)) return { chart: await takeIn(store, file, { name: file.name }), save: null };
  if (!maySave(head)) throw new ChartProblem('not-pdf', file.name);
  return { chart: null, save: file };
}

/** The browser's own way to a file on the disk. */
export function download(blob: Blob, day: string): void {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(blob);
  link.download = `holdfast-${day}.${blob.type.includes('json') ? 'json' : 'zip'}`;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}
