/** Which stretches look alike is compared beside the page: it takes longer than a frame. */
import { effect, signal, type ReadonlySignal } from '@preact/signals';
import type { Likely } from '../../core/find/chart/likely.ts';
import type { FoundPage } from '../../core/find/types.ts';

/** What looks alike on these pages, compared anew when they are others; nothing until then. */
export function createLikely(
  pages: ReadonlySignal<readonly FoundPage[]>,
  left: AbortSignal,
): ReadonlySignal<readonly Likely[]> {
  const likely = signal<readonly Likely[]>([]);
  let compared: readonly FoundPage[] = [];
  let comparing = new AbortController();
  const stop = effect(() => {
    const now = pages.value;
    if (now.length === compared.length && now.every((page, i) => page === compared[i])) return;
    compared = now;
    comparing.abort();
    comparing = new AbortController();
    likely.value = [];
    // As engraved there is no doubt.
    if (!now.some(({ by }) => by === 'pixels')) return;
    const { signal: over } = comparing;
    void likelyOn(now, over).then((list) => {
      if (!over.aborted) likely.value = list;
    });
  });
  left.addEventListener('abort', () => {
    stop();
    comparing.abort();
  });
  return likely;
}

/** Nothing when it was stopped, or could not be compared. */
function likelyOn(pages: readonly FoundPage[], signal: AbortSignal): Promise<readonly Likely[]> {
  return new Promise((resolve) => {
    const worker = new Worker(new URL('./likely-worker.ts', import.meta.url), { type: 'module' });
    const done = (likely: readonly Likely[]) => {
      signal.removeEventListener('abort', stop);
      worker.terminate();
      resolve(likely);
    };
    const stop = () => done([]);
    signal.addEventListener('abort', stop);
    worker.onmessage = ({ data }: MessageEvent<readonly Likely[]>) => done(data);
    // It is a help: without it the player says by hand which bars are the same.
    worker.onerror = stop;
    worker.postMessage(pages);
  });
}
