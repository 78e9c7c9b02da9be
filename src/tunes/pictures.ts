import type { Card } from '../core/log/card.ts';
import type { Store } from '../store/types.ts';
import { firstLine } from './describe.ts';

/** Width and height of a picture in CSS px; drawn at twice that. */
export const PICTURE = { width: 424, height: 62 };

let line = Promise.resolve();

/** One picture is drawn after the other: each opens a PDF. Those nobody waits for any more are left out. */
function inTurn<T>(signal: AbortSignal, work: () => Promise<T>): Promise<T> {
  const done = line.then(() => {
    signal.throwIfAborted();
    return work();
  });
  line = done.then(
    () => undefined,
    () => undefined,
  );
  return done;
}

/** Any address will do as a name in the browser's cache; nothing is ever fetched from it. */
function cacheName({ document, line }: Card): string {
  const place = line ? [line.page, line.top, line.bottom, line.left, line.turn ?? 0].join('-') : 'head';
  return `https://picture.invalid/${document ?? ''}/${place}`;
}

/** A page that takes longer has no picture, ms: its reader ends with the wait. */
const PATIENCE = 20_000;

const late = () =>
  new Promise<never>((_, reject) => setTimeout(() => reject(new Error('no picture in time')), PATIENCE));

async function draw({ document, line }: Card, store: Store): Promise<Blob | null> {
  const bytes = document === null ? null : await store.bytes(document);
  if (!bytes) return null;
  // The PDF reader is the largest part of the page: it is loaded only when a picture is wanted.
  const [{ openPdf }, { thumb }] = await Promise.all([import('../pdf/open.ts'), import('../pdf/thumb.ts')]);
  const page = line?.page ?? 0;
  const turns = { pages: {}, rest: line?.turn ?? 0 };
  const file = await openPdf(bytes, { first: () => page, turns: () => turns });
  try {
    const size = file.pages[page];
    if (!size) return null;
    const box = firstLine(line, size, PICTURE.width / PICTURE.height);
    const canvas = await Promise.race([thumb(file, page, box, 2 * PICTURE.width), late()]);
    return await new Promise((resolve) => canvas.toBlob(resolve));
  } finally {
    await file.destroy();
  }
}

let opened: Promise<Cache | null> | null = null;
/** Null where the browser has no cache for pages. */
const cache = () => {
  // Those of earlier releases had the scanner's grey paper.
  opened ??= caches
    .delete('pictures')
    .then(() => caches.open('pictures-on-white'))
    .catch(() => null);
  return opened;
};

/** Addresses of pictures that this page has shown: coming back into view costs nothing. */
const shown = new Map<string, string>();
const SHOWN = 400;

function remember(name: string, blob: Blob): string {
  const url = URL.createObjectURL(blob);
  shown.set(name, url);
  const [oldest] = shown;
  if (shown.size > SHOWN && oldest) {
    shown.delete(oldest[0]);
    URL.revokeObjectURL(oldest[1]);
  }
  return url;
}

/** The address of a picture that this page has shown before; null for another. */
export const pictureAt = (card: Card): string | null => shown.get(cacheName(card)) ?? null;

/**
 * The address of the picture of a chart's first line, kept for the next time. Null when it cannot be drawn, or
 * when `signal` aborted before its turn came.
 */
export async function pictureOf(card: Card, store: Store, signal: AbortSignal): Promise<string | null> {
  const name = cacheName(card);
  const known = shown.get(name);
  if (known !== undefined) return known;
  const held = await cache();
  const kept = await held?.match(name);
  if (kept) return remember(name, await kept.blob());
  const blob = await inTurn(signal, async () => {
    // Another row of the same line may have drawn it meanwhile.
    const drawn = await held?.match(name);
    return drawn ? drawn.blob() : draw(card, store);
  }).catch(() => null);
  if (!blob) return null;
  await held?.put(name, new Response(blob)).catch(() => undefined);
  return remember(name, blob);
}
