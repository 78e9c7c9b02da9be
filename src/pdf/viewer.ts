// The components read pdf.js from the global that this import sets: it has to come first.
import { AnnotationEditorType, AnnotationMode } from 'pdfjs-dist';
import { EventBus, PDFViewer } from 'pdfjs-dist/web/pdf_viewer.mjs';
import type { PdfFile } from './open.ts';
import { giveUpStuck } from './stuck.ts';

/** A page was drawn, or could not be. */
export interface PageDrawn {
  /** From 0. */
  readonly page: number;
  /** The page's own element. */
  readonly element: HTMLElement;
  /** What was drawn; null when nothing could be. */
  readonly canvas: HTMLCanvasElement | null;
  readonly error: Error | null;
}

/** pdf.js's viewer, reduced to what the stand needs. Scale 1 is 96 CSS px an inch. */
export interface Viewer {
  /** The elements of all pages, in order; pdf.js empties and fills them as it likes. */
  readonly pages: readonly HTMLElement[];
  scale(): number;
  /** `delay`: ms to stretch the old drawing for before the page is drawn anew, while a gesture lasts. */
  setScale(scale: number, delay?: number): void;
  /** Gives every page its own size, as soon as all are known. */
  placeAll(): Promise<void>;
  /** Brings a page (from 0) to the top of the window. */
  goTo(page: number): void;
  /** Draws what is in view; scrolling does so by itself. */
  update(): void;
  dispose(): void;
}

export interface ShowOptions {
  readonly scale: number;
  /** The page drawn first, from 0: none before it is. */
  readonly first: number;
  readonly onDrawn: (drawn: PageDrawn) => void;
  /** A page (from 0) took too long: it stays blank, and the others go on. */
  readonly onStuck: (page: number) => void;
}

/** Texts come from the project's own strings, never from pdf.js. */
const noTexts = { pause: () => undefined, resume: () => undefined, translate: () => Promise.resolve() };

type Matrix = readonly [a: number, b: number, c: number, d: number, x: number, y: number];

/** The drawing of a part of a page at a scale where a drawing of the whole would be too large. */
interface DetailView {
  _getRenderingContext(canvas: HTMLCanvasElement, transform: Matrix): unknown;
}

/** What is used of pdf.js's page view beyond its types. */
interface PageView {
  readonly div: HTMLElement;
  readonly viewport: { readonly width: number; readonly height: number };
  readonly detailView: DetailView | null;
  updateVisibleArea(area: unknown): void;
  readonly pdfPage: unknown;
  setPdfPage(page: unknown): void;
}

interface RenderedEvent {
  readonly source: { readonly div: HTMLElement; readonly canvas?: HTMLCanvasElement | null };
  readonly pageNumber: number;
  readonly cssTransform: boolean;
  readonly isDetailView: boolean;
  readonly error: Error | null;
}

/**
 * Shows a file in `scroller` (positioned absolutely, scrolling, with one empty div in it).
 * Annotations are drawn, but neither forms nor links nor scripts act.
 * Resolves as soon as every page has its place; `onDrawn` tells when one has been drawn.
 */
export async function showPdf(
  scroller: HTMLDivElement,
  file: PdfFile,
  { scale, first, onDrawn, onStuck }: ShowOptions,
): Promise<Viewer> {
  const eventBus = new EventBus();
  const gone = new AbortController();
  const options = {
    container: scroller,
    eventBus,
    l10n: noTexts,
    textLayerMode: 0,
    annotationMode: AnnotationMode.ENABLE,
    annotationEditorMode: AnnotationEditorType.DISABLE,
    removePageBorders: true,
    enableAutoLinking: false,
    supportsPinchToZoom: false,
    abortSignal: gone.signal,
  };
  const viewer = new PDFViewer(options as unknown as ConstructorParameters<typeof PDFViewer>[0]);
  eventBus.on('pagerendered', (event: RenderedEvent) => {
    if (event.cssTransform || event.isDetailView) return;
    onDrawn({
      page: event.pageNumber - 1,
      element: event.source.div,
      canvas: event.source.canvas ?? null,
      error: event.error,
    });
  });
  // A file without another page is given up as a whole.
  if (file.pages.length > 1) giveUpStuck(viewer, eventBus, file, { signal: gone.signal, onStuck });
  const laidOut = new Promise<void>((resolve) => {
    // Before pdf.js starts to draw, or it would draw the first page twice, or one that is not wanted.
    const begin = () => {
      // The browser lays out the whole file for each of these.
      sizePages(viewer, file);
      if (first > 0) viewer.currentPageNumber = first + 1;
      viewer.currentScale = scale;
      resolve();
    };
    eventBus.on('pagesinit', begin, { once: true });
  });
  viewer.setDocument(file.document);
  await laidOut;
  for (const index of file.pages.keys()) onWholePixels(viewer.getPageView(index) as PageView);
  await place(viewer, file, file.known);
  return {
    pages: [...scroller.querySelectorAll<HTMLElement>('.page')],
    scale: () => viewer.currentScale,
    setScale: (next, delay) => {
      if (delay === undefined) viewer.currentScale = next;
      else viewer.updateScale({ scaleFactor: next / viewer.currentScale, drawingDelay: delay });
    },
    placeAll: async () => {
      const known = await file.sized();
      if (known.length === file.known.length) return;
      sizePages(viewer, file);
      await place(viewer, file, known);
    },
    goTo: (page) => viewer.scrollPageIntoView({ pageNumber: page + 1 }),
    update: () => viewer.update(),
    dispose: () => {
      gone.abort();
      viewer.setDocument(null as unknown as PdfFile['document']);
      viewer.cleanup();
    },
  };
}

/** Every page as large as it is, as far as that is known. */
function sizePages(viewer: PDFViewer, file: PdfFile): void {
  for (const [index, { width, height }] of file.pages.entries()) {
    const { style } = (viewer.getPageView(index) as PageView).div;
    style.setProperty('--page-width', String(width));
    style.setProperty('--page-height', String(height));
  }
}

/** Gives the `known` pages to their views at once; pdf.js alone lets them move after one has been drawn. */
async function place(viewer: PDFViewer, file: PdfFile, known: readonly number[]): Promise<void> {
  await Promise.all(
    known.map(async (index) => {
      const view = viewer.getPageView(index) as PageView;
      try {
        const page = await file.document.getPage(index + 1);
        if (!view.pdfPage) view.setPdfPage(page);
      } catch {
        // It keeps the size of the first page and stays empty.
      }
    }),
  );
}

/**
 * The sharp drawing of a part of a page starts at, and is as large as, a fraction of a pixel, but a browser
 * lays a canvas on whole pixels: it would be up to a pixel off. So the part is made whole before it is drawn.
 */
function onWholePixels(view: PageView): void {
  const update = view.updateVisibleArea.bind(view);
  const done = new WeakSet<DetailView>();
  view.updateVisibleArea = (area) => {
    update(area);
    const detail = view.detailView;
    if (!detail || done.has(detail)) return;
    done.add(detail);
    const context = detail._getRenderingContext.bind(detail);
    detail._getRenderingContext = (canvas, [a, b, c, d, x, y]) => {
      // Whole CSS pixels where they are whole device pixels too: which of them a browser rounds to differs.
      const grid = Number.isInteger(devicePixelRatio) ? devicePixelRatio : 1;
      const [left, top] = [Math.round(x / grid) * grid, Math.round(y / grid) * grid];
      const [wide, high] = [canvas.width, canvas.height].map((n) => Math.ceil(n / grid) * grid);
      if (wide !== canvas.width) canvas.width = wide!;
      if (high !== canvas.height) canvas.height = high!;
      const share = (pixels: number, whole: number) => `${(100 * pixels) / devicePixelRatio / whole}%`;
      const { width, height } = view.viewport;
      canvas.style.left = share(-left, width);
      canvas.style.top = share(-top, height);
      canvas.style.width = share(canvas.width, width);
      canvas.style.height = share(canvas.height, height);
      return context(canvas, [a, b, c, d, left, top]);
    };
  };
}
