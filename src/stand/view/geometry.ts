import type { PageBox, PlacedBox } from '../../core/chart/types.ts';

/** Where things lie, in CSS px: of the scrolled content, or of the window on it. */
export interface Rect {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

export interface Size {
  readonly width: number;
  readonly height: number;
}

export interface Point {
  readonly left: number;
  readonly top: number;
}

/** CSS px between pages, as view.css has it. */
export const PAGE_GAP = 10;
/** Scales that the view can have: 25 to 800 %. */
export const LEAST = 0.25;
export const MOST = 8;

export const clampScale = (scale: number): number => Math.min(MOST, Math.max(LEAST, scale));

/** Where the pages lie when they are stacked at a scale, centred on the widest; left 0 is its edge. */
export function stack(sizes: readonly Size[], scale: number): Rect[] {
  const widest = Math.max(...sizes.map((size) => size.width)) * scale;
  let top = 0;
  return sizes.map(({ width, height }) => {
    const left = (widest - width * scale) / 2;
    const rect = { left, top, right: left + width * scale, bottom: top + height * scale };
    top = rect.bottom + PAGE_GAP;
    return rect;
  });
}

/** A box of a page in the px of where that page lies. */
export function within(page: Rect, [x0, y0, x1, y1]: PageBox): Rect {
  const [width, height] = [page.right - page.left, page.bottom - page.top];
  return {
    left: page.left + x0 * width,
    top: page.top + y0 * height,
    right: page.left + x1 * width,
    bottom: page.top + y1 * height,
  };
}

export const around = (rects: readonly Rect[]): Rect => ({
  left: Math.min(...rects.map((rect) => rect.left)),
  top: Math.min(...rects.map((rect) => rect.top)),
  right: Math.max(...rects.map((rect) => rect.right)),
  bottom: Math.max(...rects.map((rect) => rect.bottom)),
});

/** The largest scale at which these boxes together fit into `room`, unclamped. */
export function fitting(boxes: readonly PlacedBox[], sizes: readonly Size[], room: Size): number {
  const pages = stack(sizes, 1);
  const all = around(boxes.map((box) => within(pages[box.page]!, box.reach)));
  // Gaps between pages do not grow with the scale, so they come off the room.
  const first = Math.min(...boxes.map((box) => box.page));
  const last = Math.max(...boxes.map((box) => box.page));
  const gaps = (last - first) * PAGE_GAP;
  return Math.min(room.width / (all.right - all.left), (room.height - gaps) / (all.bottom - all.top - gaps));
}

/**
 * Smaller than this share of the size at which each box alone would still fit, a player reads worse
 * than by having the page moved on: then only the first boxes are framed. Chosen by eye.
 */
const WORTH_SHRINKING = 0.75;

/** How to frame boxes: the scale, and how many of them, from the first on, are then in view. */
export function framing(
  boxes: readonly PlacedBox[],
  sizes: readonly Size[],
  room: Size,
  most = MOST,
  least = 0,
): { scale: number; count: number } {
  const limit = (scale: number) => clampScale(Math.min(scale, most));
  const pages = stack(sizes, 1);
  const rects = boxes.map((box) => within(pages[box.page]!, box.reach));
  // The widest and the highest: at this scale every single box fits, and so does each whole line.
  const across = around(rects);
  const high = Math.max(...rects.map((rect) => rect.bottom - rect.top));
  const alone = limit(Math.min(room.width / (across.right - across.left), room.height / high));
  const all = limit(fitting(boxes, sizes, room));
  if (all >= Math.max(alone * WORTH_SHRINKING, Math.min(least, alone)))
    return { scale: all, count: boxes.length };
  let count = 1;
  while (count < boxes.length && fitting(boxes.slice(0, count + 1), sizes, room) >= alone) count++;
  return { scale: alone, count };
}

/**
 * Where to scroll, so that `next` and what comes after it can be seen and `playing` stays in view.
 * Stays where it is (`at`) as long as there is room below `next` for another such line.
 * @param view size of the window on the content; `margin` is kept free around what is shown, px
 */
export function following(next: Rect, playing: Rect, at: Point, view: Size, margin: number): Point {
  const high = next.bottom - next.top;
  return {
    left: along(next.left, next.right, 0, playing.left, playing.right, at.left, view.width, margin),
    top: along(next.top, next.bottom, high, playing.top, playing.bottom, at.top, view.height, margin),
  };
}

function along(
  from: number,
  to: number,
  ahead: number,
  playFrom: number,
  playTo: number,
  at: number,
  length: number,
  margin: number,
): number {
  if (from >= at && to + ahead <= at + length) return at;
  const wanted = from < at ? from - margin : Math.min(playFrom, from) - margin;
  const furthest = playFrom - margin;
  const nearest = playTo + margin - length;
  // A line longer than the window shows its beginning.
  return Math.min(Math.max(wanted, nearest), furthest);
}
