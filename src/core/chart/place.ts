/** When boxes on a page are the same place. */
import type { PageBox, PlacedBox } from './types.ts';

/** Bars boxed apart are the same when their boxes overlap this much (intersection over union). */
export const SAME_PLACE = 0.8;

type OnPage = Pick<PlacedBox, 'page' | 'box'>;
/** A box in any one unit. */
export type Box = PageBox;

export const area = ([x0, y0, x1, y1]: Box): number => (x1 - x0) * (y1 - y0);

/** The area that both cover. */
export function shared(a: Box, b: Box): number {
  const width = Math.min(a[2], b[2]) - Math.max(a[0], b[0]);
  const height = Math.min(a[3], b[3]) - Math.max(a[1], b[1]);
  return Math.max(0, width) * Math.max(0, height);
}

/** The same on pages: nothing where they are different ones. */
export const sharedOnPage = (a: OnPage, b: OnPage): number => (a.page === b.page ? shared(a.box, b.box) : 0);

/** Intersection over union of two boxes, 0–1. */
export function iou(a: Box, b: Box): number {
  const both = shared(a, b);
  return both === 0 ? 0 : both / (area(a) + area(b) - both);
}

export function isSamePlace(a: OnPage, b: OnPage): boolean {
  const both = sharedOnPage(a, b);
  return both >= SAME_PLACE * (area(a.box) + area(b.box) - both);
}
