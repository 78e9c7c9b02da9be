import type { PlacedBox } from '../../core/chart/types.ts';
import type { PagePoint } from '../mode.ts';
import { within, type Rect } from './geometry.ts';

/** Where pages and boxes lie now, as the browser has laid them out. */
export interface Places {
  /** A page in the window, CSS px. */
  readonly onScreen: (page: number) => Rect;
  /** A box's reach in the scrolled content, CSS px. */
  readonly inContent: (box: PlacedBox) => Rect;
  /** The page under a point of the window, or the one nearest to it. */
  readonly nearest: (x: number, y: number) => { readonly page: number; readonly distance: number };
  /** The point of a page under a point of the window; outside 0–1 when it is beside the page. */
  readonly point: (page: number, x: number, y: number) => PagePoint;
  readonly centre: () => { readonly x: number; readonly y: number };
}

export function placesOf(scroller: HTMLElement, pages: readonly HTMLElement[]): Places {
  const onScreen = (page: number): Rect => pages[page]!.getBoundingClientRect();
  return {
    onScreen,
    inContent: (box) => {
      const frame = scroller.getBoundingClientRect();
      const [dx, dy] = [scroller.scrollLeft - frame.left, scroller.scrollTop - frame.top];
      const { left, top, right, bottom } = within(onScreen(box.page), box.reach);
      return { left: left + dx, top: top + dy, right: right + dx, bottom: bottom + dy };
    },
    nearest: (x, y) => {
      let best = { page: 0, distance: Infinity };
      for (const page of pages.keys()) {
        const distance = away(onScreen(page), x, y);
        if (distance < best.distance) best = { page, distance };
      }
      return best;
    },
    point: (page, x, y) => {
      const { left, top, right, bottom } = onScreen(page);
      return { page, x: (x - left) / (right - left), y: (y - top) / (bottom - top) };
    },
    centre: () => {
      const { left, top } = scroller.getBoundingClientRect();
      return { x: left + scroller.clientWidth / 2, y: top + scroller.clientHeight / 2 };
    },
  };
}

/** Distance from a point to a rectangle, 0 inside. */
function away({ left, top, right, bottom }: Rect, x: number, y: number): number {
  return Math.hypot(Math.max(left - x, 0, x - right), Math.max(top - y, 0, y - bottom));
}
