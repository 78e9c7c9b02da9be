/** Pages that can be read both ways, from what they paint and from their pixels: each checks the other. */
import { iou } from '../chart/place.ts';
import type { FoundBar, FoundPage, FoundSystem, PageInk, PointBox } from './types.ts';

/** A page with a picture over this share of it may be a scan, with something painted over it. */
const COVERED = 0.4;
/** Bars that are on the mean less sure than this are in doubt. */
const LOW = 0.8;
/** Boxes of one bar. */
const SAME = 0.75;
/** What was seen in pixels stays only where it says so many times as much. */
const MORE = 1.2;
/** A bar that the other way sees as another one, where it sees music at all, is so much less sure. */
const LESS = 0.8;

const barsOf = (page: FoundPage) => page.systems.flatMap(({ bars }) => bars);
const sum = (bars: readonly FoundBar[]) => bars.reduce((all, { sure }) => all + sure, 0);

/** What was found in a page's ink needs a look at its pixels. */
export function isDoubtful(found: FoundPage, { ink, width, height }: PageInk): boolean {
  const bars = barsOf(found);
  const area = ([x0, y0, x1, y1]: PointBox) => (x1 - x0) * (y1 - y0);
  const isScan = ink.some((one) => one.kind === 'image' && area(one.box) > COVERED * width * height);
  // The sum of many equal values is not quite their multiple.
  return isScan || sum(bars) < LOW * bars.length - 1e-9;
}

/**
 * The surer of two findings of one page; the one from its ink where they are about equal. Bars that both found are
 * surer than either says, others less sure where the other way found music in their place.
 */
export function surerOf(engraved: FoundPage, seen: FoundPage): FoundPage {
  const isSeen = sum(barsOf(seen)) > MORE * sum(barsOf(engraved));
  const [kept, other] = isSeen ? [seen, engraved] : [engraved, seen];
  const systems = kept.systems.map((system) => ({
    ...system,
    bars: system.bars.map((bar) => ({ ...bar, sure: checked(bar, other.systems) })),
  }));
  return { ...kept, systems, by: isSeen ? 'pixels' : 'both' };
}

function checked({ box, sure }: FoundBar, others: readonly FoundSystem[]): number {
  const same = others.flatMap(({ bars }) => bars).find((bar) => iou(bar.box, box) >= SAME);
  if (same) return 1 - (1 - sure) * (1 - same.sure);
  const isMusic = others.some((other) => iou(other.box, box) > 0);
  return isMusic ? sure * LESS : sure;
}
