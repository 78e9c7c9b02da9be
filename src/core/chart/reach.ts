import type { Bar, Marks, PageBox, PlacedBox, System } from './types.ts';

/** Staff heights that a reach may extend: chord symbols and ledger lines, not the line's neighbours. */
const FARTHEST = 1.2;
/**
 * Marks know only the top line and the bottom line of a system. Higher than this share of its page it has several staves:
 * a single one is 7 mm high, 0.047 of a small page on its side, and the piano's two are 0.077 of A4 (LilyPond's sizes).
 */
const SEVERAL = 0.065;
/** Two staves and what stands between them, in staff heights: LilyPond's piano staff, 4 + 5 + 4 spaces. */
export const TWO_STAVES = 13 / 4;

/** How far a reach may extend from a system of a height, both fractions of the page's. */
export const farthest = (height: number): number =>
  FARTHEST * (height > SEVERAL ? height / TWO_STAVES : height);

/**
 * How far a system reaches on its page, [top, bottom] in fractions of the page's height: half the way
 * to the neighbouring systems of that page, at most 1.2 staff heights, never beyond the page.
 */
export function reachOf(marks: Pick<Marks, 'systems'>, system: System): readonly [number, number] {
  const most = farthest(system.bottom - system.top);
  const [above, below] = gapsOf(marks, system);
  const [up, down] = [Math.min(most, above / 2), Math.min(most, below / 2)];
  return [Math.max(0, system.top - up), Math.min(1, system.bottom + down)];
}

/** How far the neighbours above and below are on the system's page, fractions of its height; Infinity: there is none. */
export function gapsOf(
  marks: Pick<Marks, 'systems'>,
  system: System,
): readonly [above: number, below: number] {
  let [above, below] = [Infinity, Infinity];
  for (const other of marks.systems) {
    if (other.page !== system.page || other.id === system.id) continue;
    if (other.top < system.top) above = Math.min(above, Math.max(0, system.top - other.bottom));
    else below = Math.min(below, Math.max(0, other.top - system.bottom));
  }
  return [above, below];
}

/** What stands before the first bar of a line that opens with a repeat, clef and key, is no wider, share of the page's width. */
const WIDEST_CLEF = 0.15;

/** Where the staff of a system begins, fraction of the page's width: before its first bar where lines near by begin there. */
export function staffStart({ systems }: Pick<Marks, 'systems'>, system: System): number {
  const own = system.bars[0]?.x0 ?? 0;
  const starts = systems.flatMap(({ page, bars }) => (page === system.page ? (bars[0]?.x0 ?? []) : []));
  return Math.min(own, ...starts.filter((x0) => own - x0 < WIDEST_CLEF));
}

/** How much a line leans, for another that lies as it does; nothing where it is straight. */
export const leaning = ({ lean }: Pick<System, 'lean'>): Pick<System, 'lean'> =>
  lean === undefined ? {} : { lean };

/** A written bar's box and reach; sideways both end at the bar lines. */
export function placed(marks: Pick<Marks, 'systems'>, system: System, bar: Bar): PlacedBox {
  const [top, bottom] = reachOf(marks, system);
  const box: PageBox = [bar.x0, system.top, bar.x1, system.bottom];
  return { page: system.page, box, reach: [bar.x0, top, bar.x1, bottom], ...leaning(system) };
}
