/** Files on their way onto the shelf, and off it. */
import { isPdf } from '../core/chart/naming.ts';
import { headOf } from '../host/head.ts';
import { ChartProblem } from '../host/problem.ts';

/** A save is JSON or a zip: '{' or 'PK' at its start. */
const maySave = (head: Uint8Array) => head[0] === 0x7b || (head[0] === 0x50 && head[1] === 0x4b);

/** Reads a file far enough to know what it is. Throws ChartProblem for what is neither. */
export async function kindOf(file: File): Promise<'pdf' | 'save'> {
  const head = await headOf(file, file.name);
  if (isPdf(head)) return 'pdf';
  if (!maySave(head)) throw new ChartProblem('not-pdf', file.name);
  return 'save';
}

/** The browser's own way to a file on the disk. */
export function download(blob: Blob, day: string): void {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(blob);
  link.download = `holdfast-${day}.${blob.type.includes('json') ? 'json' : 'zip'}`;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}
