import { signal } from '@preact/signals';
import { render } from 'preact';
import type { PageBox, PlacedBox } from '../../core/chart/types.ts';
import { cutOut } from '../../pdf/cut.ts';
import { TooSlow } from '../../pdf/errors.ts';
import { ENGRAVED, levelsOf, type Levels } from '../../pdf/levels.ts';
import type { PdfFile } from '../../pdf/open.ts';
import { showPdf, type PageDrawn } from '../../pdf/viewer.ts';
import type { FrameOptions, StandView } from '../mode.ts';
import { around, clampScale, following, framing, within } from './geometry.ts';
import type { Point } from './geometry.ts';
import { listenGestures } from './gestures.ts';
import { createHold } from './hold.ts';
import { printedBoxOf } from './margins.ts';
import { layOverlays, type Overlays } from './overlay.tsx';
import { createLooks, type LookChoice } from './paper.ts';
import { placesOf } from './places.ts';
import './view.css';

export interface ViewOptions {
  /** Ends the view, as `dispose` does. */
  readonly signal?: AbortSignal;
  /** The page that is shown first, from 0. */
  readonly first?: number;
  /** A page could not be drawn; it stays blank, and overlays on it still work. */
  readonly onUndrawable?: (page: number) => void;
  /** What stands on such a page. */
  readonly undrawableText?: string;
}

const CSS_PX_PER_POINT = 96 / 72;
/** Kept free around what is framed, CSS px. */
const MARGIN = 24;
/** A page is not shown larger than this before anyone has asked. */
const FIRST_MOST = 2;
/** Width of a page that is drawn only to be looked at, device px. */
const LOOKED_AT = 600;
const WHOLE: PageBox = [0, 0, 1, 1];
/** While a gesture zooms, the old drawing is stretched; it is drawn anew this many ms after the last step. */
const SETTLED = 250;

const sizeOf = ({ clientWidth, clientHeight }: HTMLElement) => ({
  width: clientWidth,
  height: clientHeight,
});

/**
 * Puts a file on the stand: fills `container` (positioned, with a size) with its pages.
 * Resolves once its page wanted first has been drawn and shown, or could not be.
 * @throws the signal's reason when it was aborted before
 */
export async function createView(
  container: HTMLElement,
  file: PdfFile,
  { signal: ends, first: wanted = 0, onUndrawable, undrawableText = '' }: ViewOptions = {},
): Promise<StandView> {
  ends?.throwIfAborted();
  const inPx = () =>
    file.pages.map(({ width, height }) => ({
      width: width * CSS_PX_PER_POINT,
      height: height * CSS_PX_PER_POINT,
    }));
  const sizes = inPx();
  const first = Math.min(wanted, sizes.length - 1);
  const scroller = document.createElement('div');
  scroller.className = 'view';
  // A page larger than the window is scrolled from the keyboard too.
  scroller.tabIndex = 0;
  scroller.appendChild(document.createElement('div')).className = 'pdfViewer';
  const looks = createLooks();
  const front = document.createElement('div');
  front.className = 'front';
  container.append(looks.element, scroller, front);
  const room = signal(sizeOf(scroller));

  const fitScale = (what: 'width' | 'page', page: number) => {
    const { width, height } = sizes[page]!;
    const across = scroller.clientWidth / width;
    return clampScale(what === 'width' ? across : Math.min(across, scroller.clientHeight / height));
  };
  const firstScale = () => Math.min(fitScale('width', first), FIRST_MOST);

  let firstDrawn: () => void = () => undefined;
  const drawn = new Promise<void>((resolve) => (firstDrawn = resolve));
  const levels = new Map<number, Levels>();
  /** Where pages are printed, of those that have been looked at. */
  const printed = new Map<number, PageBox>();
  const choice = signal<LookChoice>({ ink: 'printed', swapScans: true });
  const levelsIn = (page: number) => levels.get(page) ?? ENGRAVED;
  const lookOf = (page: number) => looks.look(levelsIn(page), choice.value);
  const dress = (page: number, element: HTMLElement) => {
    const { day, stage, keepsPaper } = lookOf(page);
    element.classList.toggle('scan', keepsPaper);
    element.style.setProperty('--look-day', day);
    element.style.setProperty('--look-stage', stage);
  };
  const leftOut = new Set<number>();
  const leaveOut = (page: number, element: HTMLElement) => {
    leftOut.add(page);
    element.dataset['undrawable'] = undrawableText;
    onUndrawable?.(page);
  };
  const onDrawn = ({ page, element, canvas, error }: PageDrawn) => {
    if (canvas) {
      levels.set(page, levelsOf(canvas));
      dress(page, element);
    }
    if (error) leaveOut(page, element);
    if (page === first) firstDrawn();
  };
  const onStuck = (page: number) => {
    leaveOut(page, viewer.pages[page]!);
    if (page === first) firstDrawn();
  };
  const viewer = await showPdf(scroller, file, { scale: firstScale(), first, onDrawn, onStuck });
  /** Laid when the page has been seen: they cost a book of hundreds a layout of their own. */
  let overlays: Overlays | null = null;
  const places = placesOf(scroller, viewer.pages);
  const scale = signal(viewer.scale());
  const hold = createHold(scroller, places, () => room.peek(), first);

  /** What was last asked for, to be done again when the window changes; null: what is held stays as it is. */
  let kept: (() => void) | null = () => holdAt(firstScale());
  /** Where the view has moved on to since it was framed. */
  let followed: readonly [box: PlacedBox, playing: PlacedBox] | null = null;
  /** Where a smooth scroll is on its way to. */
  let heading: Point | null = null;
  /** What the steps of a gesture have come to: pdf.js rounds each of them. */
  let zoomed: number | null = null;
  let settling: ReturnType<typeof setTimeout> | undefined;

  const keep = (again: (() => void) | null) => {
    kept = again;
    followed = null;
    heading = null;
  };
  const again = () => {
    if (kept) kept();
    else holdAt(hold.scale(fillScale()));
    if (followed) follow(...followed, false);
  };
  const applyScale = (next: number, delay?: number) => {
    viewer.setScale(next, delay);
    scale.value = viewer.scale();
  };
  /** Another scale, with the same at the top of the window. */
  const holdAt = (next: number) => {
    applyScale(next);
    hold.put(viewer.scale());
  };
  /** Changes the scale while a point of the window keeps what is under it. */
  const zoomAround = (next: number, { x, y }: { x: number; y: number }, delay?: number) => {
    const { page } = places.nearest(x, y);
    const held = places.point(page, x, y);
    applyScale(next, delay);
    const { left, top } = within(places.onScreen(page), [held.x, held.y, held.x, held.y]);
    scroller.scrollBy({ left: left - x, top: top - y, behavior: 'instant' });
    hold.take(viewer.scale());
  };
  const scrollTo = (target: Point, smooth: boolean) => {
    const still = !smooth || matchMedia('(prefers-reduced-motion: reduce)').matches;
    heading = still ? null : target;
    scroller.scrollTo({ ...target, behavior: still ? 'instant' : 'smooth' });
  };
  const frame = (boxes: readonly PlacedBox[], options: FrameOptions, margin = MARGIN) => {
    const { smooth = false, maxScale, leastScale } = options;
    if (boxes.length === 0) return;
    const inside = {
      width: Math.max(1, scroller.clientWidth - 2 * margin),
      height: Math.max(1, scroller.clientHeight - 2 * margin),
    };
    const { scale: next, count } = framing(boxes, sizes, inside, maxScale, leastScale);
    const same = Math.abs(next - viewer.scale()) < 1e-3;
    if (!same) applyScale(next);
    const all = around(boxes.slice(0, count).map(places.inContent));
    const target = {
      left: (all.left + all.right - scroller.clientWidth) / 2,
      top: (all.top + all.bottom - scroller.clientHeight) / 2,
    };
    // A change of size is not smooth, so the move that comes with it is not either.
    scrollTo(target, smooth && same);
    viewer.update();
  };
  /** At it the page at the top fills the window's width, and so does the one under it where that is wider. */
  const fillScale = () => {
    const { page, left } = hold.page();
    const scale = fitScale('width', page);
    const isNextSeen = page + 1 < sizes.length && left * sizes[page]!.height * scale < scroller.clientHeight;
    return isNextSeen ? Math.min(scale, fitScale('width', page + 1)) : scale;
  };
  const fillWidth = () => holdAt(fillScale());
  /** A page small enough to be looked at as a whole. */
  const lookAt = async (page: number, stop?: AbortSignal) => {
    const { width, height } = sizes[page]!;
    const fine = LOOKED_AT / width;
    const whole = { left: 0, top: 0, width: LOOKED_AT, height: Math.round(height * fine) };
    const canvas = await cutOut(file, page, whole, fine, stop);
    if (!levels.has(page)) levels.set(page, levelsOf(canvas));
    const { paper, ink } = levels.get(page)!;
    printed.set(page, printedBoxOf(canvas, (paper + ink) / 2));
  };
  /** As large as its print fits: bare margins are left out as soon as it is known where they are. */
  const fitPage = (page: number) => {
    const fit = () => {
      // The box has air of its own.
      const box = printed.get(page) ?? WHOLE;
      frame([{ page, box, reach: box }], {}, 0);
    };
    if (!printed.has(page))
      void lookAt(page, gone.signal).then(
        () => kept === fit && fit(),
        // A page that cannot be drawn keeps its margins.
        () => undefined,
      );
    keep(fit);
    fit();
  };
  const follow = (box: PlacedBox, playing: PlacedBox, smooth: boolean) => {
    const at = heading ?? { left: scroller.scrollLeft, top: scroller.scrollTop };
    const view = { width: scroller.clientWidth, height: scroller.clientHeight };
    const target = following(places.inContent(box), places.inContent(playing), at, view, MARGIN);
    if (target.left !== at.left || target.top !== at.top) scrollTo(target, smooth);
  };

  const gone = new AbortController();
  const gestures = {
    zoom: (factor: number, x: number, y: number) => {
      keep(null);
      zoomed = clampScale((zoomed ?? viewer.scale()) * factor);
      clearTimeout(settling);
      settling = setTimeout(() => (zoomed = null), SETTLED);
      zoomAround(zoomed, { x, y }, SETTLED);
    },
    moved: () => {
      // As wide as the window it stays, wherever it is moved.
      keep(kept === fillWidth ? fillWidth : null);
      hold.moved(viewer.scale());
    },
  };
  listenGestures(scroller, gestures, gone.signal);
  scroller.addEventListener('scroll', () => hold.moved(viewer.scale()), { signal: gone.signal });
  scroller.addEventListener('scrollend', () => (heading = null), { signal: gone.signal });
  const resized = new ResizeObserver(() => {
    room.value = sizeOf(scroller);
    again();
  });
  resized.observe(scroller);

  const dispose = () => {
    if (gone.signal.aborted) return;
    gone.abort();
    clearTimeout(settling);
    resized.disconnect();
    overlays?.dispose();
    viewer.dispose();
    looks.element.remove();
    scroller.remove();
    render(null, front);
    front.remove();
    firstDrawn();
  };
  ends?.addEventListener('abort', dispose, { once: true });
  if (ends?.aborted) dispose();
  await drawn;
  ends?.throwIfAborted();
  // The frame after the drawing is the first in which a player sees it; what follows must not hold that frame up.
  await new Promise<void>((resolve) =>
    requestAnimationFrame(() => {
      performance.mark('first-page');
      setTimeout(resolve);
    }),
  );
  ends?.throwIfAborted();
  const laid = (overlays = layOverlays(viewer.pages, scroller));
  await viewer.placeAll();
  ends?.throwIfAborted();
  sizes.splice(0, sizes.length, ...inPx());
  again();

  return {
    pages: sizes.length,
    sizes,
    scale,
    room,
    setOverlay: (overlay) => laid.draw(overlay),
    redraw: () => laid.redraw(),
    toPage: (x, y, near = 0) => {
      const { page, distance } = places.nearest(x, y);
      if (distance > near) return null;
      const point = places.point(page, x, y);
      return { page, x: Math.min(1, Math.max(0, point.x)), y: Math.min(1, Math.max(0, point.y)) };
    },
    frame: (boxes, options = {}) => {
      keep(() => frame(boxes, { ...options, smooth: false }));
      frame(boxes, options);
    },
    follow: (box, playing) => {
      followed = [box, playing];
      follow(box, playing, true);
    },
    zoomTo: (to) => {
      const centred = () => {
        const { x, y } = places.centre();
        return places.nearest(x, y).page;
      };
      if (to === 'page') {
        fitPage(centred());
        return;
      }
      keep(typeof to === 'number' ? null : fillWidth);
      const next = typeof to === 'number' ? clampScale(to) : fitScale(to, centred());
      zoomAround(next, places.centre());
    },
    cut: async (page, area, density, stop) => {
      if (leftOut.has(page)) throw new TooSlow();
      if (!levels.has(page)) await lookAt(page, stop);
      return cutOut(file, page, area, density, stop);
    },
    levels: levelsIn,
    look: lookOf,
    setLook: (next) => {
      choice.value = next;
      for (const page of levels.keys()) dress(page, viewer.pages[page]!);
    },
    setFront: (content) => render(content, front),
    dispose,
  };
}
