import type { ChartState } from '../core/log/state.ts';
import type { Store } from '../store/types.ts';
import { firstLine } from './describe.ts';

/** Width and height of a picture in CSS px; drawn at twice that. */
export const PICTURE = { width: 424, height: 62 };

let line = Promise.resolve();

/** One picture is drawn after the other: each opens a PDF. */
function inTurn<T>(work: () => Promise<T>): Promise<T> {
  const done = line.then(work);
  line = done.then(
    () => undefined,
    () => undefined,
  );
  return done;
}

/** Any address will do as a name in the browser's cache; nothing is ever fetched from it. */
function cacheName({ document, marks }: ChartState): string {
  const system = marks?.marks.systems[0];
  const place = system ? [system.page, system.top, system.bottom, system.bars[0]?.x0].join('-') : 'head';
  return `https://picture.invalid/${document ?? ''}/${place}`;
}

async function draw(chart: ChartState, store: Store): Promise<Blob | null> {
  const bytes = chart.document === null ? null : await store.bytes(chart.document);
  if (!bytes) return null;
  // The PDF reader is the largest part of the page: it is loaded only when a picture is wanted.
  const [{ openPdf }, { thumb }] = await Promise.all([import('../pdf/open.ts'), import('../pdf/thumb.ts')]);
  const file = await openPdf(bytes);
  try {
    const system = chart.marks?.marks.systems[0];
    const page = system?.page ?? 0;
    const size = file.pages[page];
    if (!size) return null;
    const box = firstLine(system, size, PICTURE.width / PICTURE.height);
    const canvas = await thumb(file, page, box, 2 * PICTURE.width);
    return await new Promise((resolve) => canvas.toBlob(resolve));
  } finally {
    await file.destroy();
  }
}

/** The picture of a chart's first line, kept for the next time. Null when it cannot be drawn. */
export async function pictureOf(chart: ChartState, store: Store): Promise<Blob | null> {
  const name = cacheName(chart);
  const cache = await caches.open('pictures').catch(() => null);
  const kept = await cache?.match(name);
  if (kept) return kept.blob();
  const blob = await inTurn(() => draw(chart, store)).catch(() => null);
  if (blob) await cache?.put(name, new Response(blob)).catch(() => undefined);
  return blob;
}
