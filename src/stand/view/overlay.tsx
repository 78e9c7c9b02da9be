import { render, type VNode } from 'preact';

/** One element a page that always lies exactly on it, whatever pdf.js does with the page. */
export interface Overlays {
  draw(overlay: (page: number) => VNode | null): void;
  redraw(): void;
  dispose(): void;
}

/** A component of its own, so that signals read in `draw` redraw this page by themselves. */
function Leaf({ draw, page }: { draw: (page: number) => VNode | null; page: number }) {
  return draw(page);
}

/**
 * Each page gets a sheet with a leaf in it, as large as the page (view.css). pdf.js throws foreign children away
 * when it redraws or evicts a page: they are put back in the same task, before anything is painted.
 */
export function layOverlays(pages: readonly HTMLElement[], scroller: HTMLElement): Overlays {
  let overlay: ((page: number) => VNode | null) | null = null;
  const sheets = pages.map(() => {
    const sheet = document.createElement('div');
    sheet.className = 'overlay';
    const leaf = sheet.appendChild(document.createElement('div'));
    leaf.className = 'overlay-page';
    return { sheet, leaf, near: false };
  });

  const show = (page: number) => {
    const { leaf, near } = sheets[page]!;
    render(overlay && near ? <Leaf draw={overlay} page={page} /> : null, leaf);
  };
  const attach = (page: number) => {
    const [element, sheet] = [pages[page]!, sheets[page]!.sheet];
    if (sheet.parentNode !== element) element.append(sheet);
  };
  const numbers = new Map<Element, number>(pages.map((element, page) => [element, page]));

  const emptied = new MutationObserver((changes) => {
    for (const target of new Set(changes.map((change) => change.target)))
      attach(numbers.get(target as Element)!);
  });
  // Pages far from the window are left undrawn: a book of hundreds costs no more than a tune.
  const seen = new IntersectionObserver(
    (entries) => {
      for (const { target, isIntersecting } of entries) {
        const page = numbers.get(target)!;
        if (sheets[page]!.near === isIntersecting) continue;
        sheets[page]!.near = isIntersecting;
        show(page);
      }
    },
    { root: scroller, rootMargin: '100%' },
  );
  for (const [page, element] of pages.entries()) {
    attach(page);
    emptied.observe(element, { childList: true });
    seen.observe(element);
  }

  const redraw = () => sheets.forEach((_, page) => show(page));
  return {
    draw: (next) => {
      overlay = next;
      redraw();
    },
    redraw,
    dispose: () => {
      emptied.disconnect();
      seen.disconnect();
      for (const { sheet, leaf } of sheets) {
        render(null, leaf);
        sheet.remove();
      }
    },
  };
}
