/** Scans that lie on their side: which way up is right. */
import type { Turn } from '../chart/types.ts';
import type { FoundPage } from './types.ts';

/** Quarter turns to try where no music is found on the pages as they lie. */
export const SIDEWAYS = [90, 270] as const satisfies readonly Turn[];

/** With fewer bars, or less sure ones, pages are left as they lie. */
const FEWEST = 4;
const LEAST_SURE = 0.8;

/** How a line ends that ends a tune, or a part of it: upside down the thick stroke stands at the other end. */
const ENDS: Readonly<Record<string, number>> = { final: 2, 'repeat-end': 2, double: 1 };

/**
 * How much speaks for pages lying right, to be compared with the same pages the other way up: staves and bar lines look
 * alike upside down, but a tune's last bar line, brackets over bars and the meter do not. Null: no music to tell by.
 */
export function uprightness(pages: readonly FoundPage[]): number | null {
  const bars = pages.flatMap(({ systems }) => systems.flatMap((system) => system.bars));
  const sure = bars.reduce((sum, bar) => sum + bar.sure, 0) / bars.length;
  if (bars.length < FEWEST || sure < LEAST_SURE) return null;
  return pages.reduce((sum, page) => sum + signsOfUpright(page), sure);
}

function signsOfUpright({ systems, signs, by }: FoundPage): number {
  const last = systems.at(-1)?.bars.at(-1)?.right ?? 'none';
  const bracketed = systems.some(({ bars }) => bars.some(({ ending }) => ending !== undefined));
  const meter = signs.some(({ kind, bar }) => kind === 'meter' && bar === 0);
  // Printed signs that were read as such can only stand upright.
  const read = by !== 'pixels' && systems.length > 0 ? 4 : 0;
  return (ENDS[last] ?? 0) + Number(bracketed) + Number(meter) + read;
}
