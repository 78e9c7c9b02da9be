import { ChartProblem } from './problem.ts';

/** The first bytes of a file. Throws ChartProblem when there are none. */
export async function headOf(file: Blob, name: string): Promise<Uint8Array> {
  if (file.size === 0) throw new ChartProblem('empty', name);
  return new Uint8Array(await file.slice(0, 1024).arrayBuffer());
}
