/** Files that come onto the shelf: read far enough to know what they are. */
import { isPdf } from '../core/chart/naming.ts';
import type { ChartKey } from '../core/log/events.ts';
import { headOf } from '../host/head.ts';
import { ChartProblem } from '../host/problem.ts';
import { takeIn } from '../store/intake.ts';
import type { Store } from '../store/types.ts';

/** A save is JSON or a zip: '{' or 'PK' at its start. */
const maySave = (head: Uint8Array) => head[0] === 0x7b || (head[0] === 0x50 && head[1] === 0x4b);

/** One file: a PDF gives its chart's key, a save is handed to `merge`. Throws ChartProblem for anything else. */
export async function takeFile(
  store: Store,
  file: File,
  merge: (file: File) => Promise<void>,
): Promise<ChartKey | null> {
  const head = await headOf(file, file.name);
  if (isPdf(head)) return takeIn(store, file, { name: file.name });
  if (!maySave(head)) throw new ChartProblem('not-pdf', file.name);
  await merge(file);
  return null;
}

/** The browser's own way to a file on the disk. */
export function download(blob: Blob, day: string): void {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(blob);
  link.download = `holdfast-${day}.${blob.type.includes('json') ? 'json' : 'zip'}`;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}
