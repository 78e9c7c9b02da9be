import { effect, signal, type ReadonlySignal } from '@preact/signals';
import type { Likely } from '../../core/find/chart/likely.ts';
import { arePictures } from '../../core/find/proposal.ts';
import type { FoundPage } from '../../core/find/types.ts';
import { likelyOn } from './comparing.ts';

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
    if (!arePictures(now)) return;
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
