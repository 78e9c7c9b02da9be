/** Whether a bar line goes through its staves: the uprights of a natural, or a stem, do not. */
import type { Straight } from './straight.ts';
import { FAINT } from './uprights.ts';

/** A stroke may stand so far from where the net sees it, in spaces. */
const OFF = 0.4;
/** A bar line covers at least so much of the spaces, and of the ends of its staves; lines themselves tell nothing. */
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

/** A stroke at about this column covers the staves, or most of them and both of their ends. */
export function goesThrough({ data, width, unit, tops }: Straight, x: number): boolean {
  const rows = rowsBetween(unit);
  const ends = [rows.filter((v) => v < END * unit), rows.filter((v) => v > (4 - END) * unit)];
  const reach = Math.round(OFF * unit);
  const middle = Math.round(x);
  for (let u = middle - reach; u <= middle + reach; u++) {
    const covers = (some: readonly number[], least: number) =>
      tops.every((top) => {
        let dark = 0;
        for (const v of some) {
          const at = (top + v) * width + u;
          if (Math.max(data[at - 1]!, data[at]!, data[at + 1]!) > FAINT) dark++;
        }
        return dark >= least * some.length;
      });
    if (covers(rows, COVERED) || ends.every((end) => covers(end, AT_END))) return true;
  }
  return false;
}
