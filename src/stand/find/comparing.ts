import type { Marks } from '../../core/chart/types.ts';
import type { Likely } from '../../core/find/chart/likely.ts';
import { arePictures, proposalFrom } from '../../core/find/proposal.ts';
import type { FoundPage } from '../../core/find/types.ts';

export interface CompareRequest {
  readonly what: 'likely' | 'proposal';
  readonly pages: readonly FoundPage[];
}

/** What the worker answers; null when it was stopped, or cannot be started. */
function compared<T>(request: CompareRequest, signal?: AbortSignal): Promise<T | null> {
  return new Promise((resolve) => {
    const worker = new Worker(new URL('./comparing-worker.ts', import.meta.url), { type: 'module' });
    const done = (answer: T | null) => {
      signal?.removeEventListener('abort', stop);
      worker.terminate();
      resolve(answer);
    };
    const stop = () => done(null);
    signal?.addEventListener('abort', stop);
    worker.onmessage = ({ data }: MessageEvent<T>) => done(data);
    worker.onerror = stop;
    worker.postMessage(request);
  });
}

/** Stretches of these pages that look alike; none when it was stopped: then the player says by hand what is the same. */
export const likelyOn = async (
  pages: readonly FoundPage[],
  signal: AbortSignal,
): Promise<readonly Likely[]> => (await compared<readonly Likely[]>({ what: 'likely', pages }, signal)) ?? [];

/** What was found on these pages, as marks. */
export async function proposalOn(pages: readonly FoundPage[]): Promise<Marks> {
  const beside = arePictures(pages) ? await compared<Marks>({ what: 'proposal', pages }) : null;
  return beside ?? proposalFrom(pages, () => crypto.randomUUID());
}
