/** A page that hangs pdf.js is given up, so that it does not take the others with it: they share one worker. */
import type { EventBus, PDFViewer } from 'pdfjs-dist/web/pdf_viewer.mjs';
import type { PdfFile } from './open.ts';

/** A page behind the first may take so long to be drawn, ms. */
const PAGE_LIMIT = 30_000;

/** States of pdf.js's page views. */
const RUNNING = 1;
const FINISHED = 3;

/** What is used of pdf.js's page view beyond its types. */
interface PageView {
  readonly id: number;
  renderingState: number;
  pdfPage: unknown;
  draw(): Promise<void>;
  reset(): void;
}

interface PageEvent {
  readonly source: PageView;
  readonly cssTransform?: boolean;
  readonly isDetailView?: boolean;
}

/**
 * Watches how long each page takes. One that takes too long stays blank from then on, `onStuck` is told of it (from
 * 0), and the file goes on in a new worker.
 */
export function giveUpStuck(
  viewer: PDFViewer,
  eventBus: EventBus,
  file: PdfFile,
  { signal, onStuck }: { readonly signal: AbortSignal; readonly onStuck: (page: number) => void },
): void {
  const timers = new Map<PageView, ReturnType<typeof setTimeout>>();
  const rest = (view: PageView) => {
    clearTimeout(timers.get(view));
    timers.delete(view);
  };
  const views = () => file.pages.map((_, index) => viewer.getPageView(index) as PageView);

  const giveUp = async (stuck: PageView) => {
    for (const view of timers.keys()) rest(view);
    stuck.draw = () => {
      stuck.renderingState = FINISHED;
      return Promise.resolve();
    };
    stuck.reset();
    onStuck(stuck.id - 1);
    await file.renew();
    if (signal.aborted) return;
    // What has been drawn stays as it is; the rest is drawn from the new worker.
    viewer.pdfDocument = file.document;
    for (const view of views()) {
      if (view.renderingState !== FINISHED) view.reset();
      view.pdfPage = null;
    }
    viewer.update();
  };
  const watch = (view: PageView) => {
    rest(view);
    timers.set(
      view,
      setTimeout(() => {
        timers.delete(view);
        if (view.renderingState === RUNNING) void giveUp(view).catch(() => onStuck(view.id - 1));
        // It waits for others to be drawn.
        else if (view.renderingState !== FINISHED) watch(view);
      }, PAGE_LIMIT),
    );
  };
  eventBus.on('pagerender', ({ source }: PageEvent) => watch(source));
  eventBus.on('pagerendered', ({ source, cssTransform, isDetailView }: PageEvent) => {
    if (!cssTransform && !isDetailView) rest(source);
  });
  signal.addEventListener('abort', () => {
    for (const view of timers.keys()) rest(view);
  });
}
