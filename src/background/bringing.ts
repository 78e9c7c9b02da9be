import { hasHost } from '../host/permissions.ts';
import type { Progress } from '../host/messages.ts';
import { asProblem } from '../host/problem.ts';
import { openStore } from '../store/index.ts';
import { takeIn } from '../store/intake.ts';
import { fetchPdf } from './fetch-pdf.ts';

/** A chart that is being fetched and kept. */
export interface Bringing {
  /** Its key. Rejects with ChartProblem. */
  readonly chart: Promise<string>;
  /** Tells how far it is from now on, and where it stands at once. */
  follow(told: (progress: Progress) => void): void;
  stop(): void;
}

/** Fetches a chart and keeps it. */
export function bring(address: string): Bringing {
  const stopped = new AbortController();
  let last: Progress | null = null;
  let listener: ((progress: Progress) => void) | null = null;
  const onProgress = (progress: Progress) => {
    last = progress;
    listener?.(progress);
  };
  const work = async () => {
    try {
      const { file, name, url } = await fetchPdf(address, {
        mayRead: hasHost,
        signal: stopped.signal,
        onProgress,
      });
      return await takeIn(await openStore(), file, { name, url });
    } catch (error) {
      throw asProblem(error, address);
    }
  };
  return {
    chart: work(),
    follow(told) {
      listener = told;
      if (last) told(last);
    },
    stop: () => stopped.abort(),
  };
}
