import { clampScale, within, type Size } from './geometry.ts';
import type { Places } from './places.ts';

/** What stands at the top of the window, and how large: there and as large it shall be when the window has changed. */
export interface Hold {
  /** What the view itself has put there is held. */
  take(scale: number): void;
  /** What the player has moved there is held. */
  moved(scale: number): void;
  /** The page at the top, and how much of its height is still below that, as a fraction of it. */
  page(): { readonly page: number; readonly left: number };
  /** The scale at which as much of it is seen across. `fit`: the one at which its page fills the window. */
  scale(fit: number): number;
  /** Brings it to the top again, at the scale that the view has now. */
  put(scale: number): void;
}

interface Held {
  readonly page: number;
  /** Fractions of the page, beyond it where its edge is in the window. */
  readonly x: number;
  readonly y: number;
  readonly scale: number;
  /** Width of the window then, CSS px. */
  readonly width: number;
}

/** @param room the window as it was when the view last looked at its size */
export function createHold(scroller: HTMLElement, places: Places, room: () => Size, first: number): Hold {
  let held: Held = { page: first, x: 0.5, y: 0, scale: 1, width: room().width };
  /** Where `put` has left the window: a scroll event of that place is not the player's. */
  let left = { x: -1, y: -1, scale: 0 };
  const at = () => {
    const { left: edge, top } = scroller.getBoundingClientRect();
    return { x: edge + scroller.clientWidth / 2, y: top };
  };
  const take = (scale: number) => {
    const { x, y } = at();
    const { page } = places.nearest(x, y);
    held = { ...places.point(page, x, y), scale, width: scroller.clientWidth };
  };
  return {
    take,
    moved(scale) {
      const { width, height } = room();
      // In a window that has just changed nothing stands where the player has seen it.
      if (width !== scroller.clientWidth || height !== scroller.clientHeight) return;
      if (left.x === scroller.scrollLeft && left.y === scroller.scrollTop && left.scale === scale) return;
      take(scale);
    },
    page: () => ({ page: held.page, left: 1 - held.y }),
    scale: (fit) => heldScale(held, scroller.clientWidth, fit),
    put(scale) {
      const { x, y } = at();
      const now = within(places.onScreen(held.page), [held.x, held.y, held.x, held.y]);
      scroller.scrollBy({ left: now.left - x, top: now.top - y, behavior: 'instant' });
      left = { x: scroller.scrollLeft, y: scroller.scrollTop, scale };
    },
  };
}

/**
 * What was seen across a window stays in it: in a narrower one it is smaller; in a wider one larger, as far as the
 * page fills it.
 */
function heldScale(held: Pick<Held, 'scale' | 'width'>, width: number, fit: number): number {
  const across = (held.scale * width) / held.width;
  return clampScale(width < held.width ? across : Math.max(held.scale, Math.min(across, fit)));
}
