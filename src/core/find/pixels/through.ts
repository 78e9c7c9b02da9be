/** Whether a bar line goes through its staves: the uprights of a natural, or a stem, do not. */
import type { Straight } from './straight.ts';
import { FAINT } from './uprights.ts';

/** A stroke may stand so far from where the net sees it, in spaces. */
const OFF = 0.4;
/** A bar line covers at least so much of the spaces of a staff, or of its ends; lines themselves tell nothing. */
const COVERED = 0.7;
const AT_END = 0.4;
const END = 0.6;
const LINE = 0.15;

/** Rows between the lines of a staff, in pixels from its top line. */
function rowsBetween(unit: number): number[] {
  const rows: number[] = [];
  for (let v = 0; v < 4 * unit; v++) {
    const off = (v % unit) / unit;
    if (off > LINE && off < 1 - LINE) rows.push(v);
  }
  return rows;
}

/** A stroke at about this column covers a staff, or both of its ends: where staves are not aligned, others have theirs elsewhere. */
export function goesThrough({ data, width, unit, tops }: Straight, x: number): boolean {
  const rows = rowsBetween(unit);
  const ends = [rows.filter((v) => v < END * unit), rows.filter((v) => v > (4 - END) * unit)];
  const reach = Math.round(OFF * unit);
  const middle = Math.round(x);
  const covers = (top: number, u: number, some: readonly number[], least: number) => {
    let dark = 0;
    for (const v of some) {
      const at = (top + v) * width + u;
      if (Math.max(data[at - 1]!, data[at]!, data[at + 1]!) > FAINT) dark++;
    }
    return dark >= least * some.length;
  };
  for (const top of tops)
    for (let u = middle - reach; u <= middle + reach; u++)
      if (covers(top, u, rows, COVERED) || ends.every((end) => covers(top, u, end, AT_END))) return true;
  return false;
}
