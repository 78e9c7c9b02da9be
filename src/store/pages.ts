/** What pages of the extension tell each other: who writes a chart, and that it was written. */
import type { ChartKey } from '../core/log/events.ts';

/**
 * Holds the chart for writing until `signal` aborts or the page closes. `writing(false)` comes at once
 * when another page has it, `writing(true)` as soon as this page does.
 */
export function claim(chart: ChartKey, signal: AbortSignal, writing: (mine: boolean) => void): void {
  const name = `holdfast-chart-${chart}`;
  const hold = (): Promise<void> | undefined => {
    if (signal.aborted) return undefined;
    writing(true);
    return new Promise((release) => {
      signal.addEventListener('abort', () => release(), { once: true });
    });
  };
  const queue = async (): Promise<void> => {
    const free = await navigator.locks.request(name, { ifAvailable: true }, async (lock) => {
      if (!lock) return false;
      await hold();
      return true;
    });
    if (free || signal.aborted) return;
    writing(false);
    await navigator.locks.request(name, { signal }, hold);
  };
  queue().catch((error: unknown) => {
    // Leaving while in the queue is no failure; without locks there is nobody to wait for.
    if (!signal.aborted) throw error;
  });
}

/** Tells other pages which charts were written, and hears it from them. */
export class Notices {
  private readonly channel = new BroadcastChannel('holdfast-log');

  /** After the commit. */
  wrote(charts: readonly ChartKey[]): void {
    this.channel.postMessage(charts);
  }

  watch(chart: ChartKey, signal: AbortSignal, changed: () => void): void {
    const hear = ({ data }: MessageEvent<unknown>) => {
      if (Array.isArray(data) && data.includes(chart)) changed();
    };
    this.channel.addEventListener('message', hear);
    signal.addEventListener('abort', () => this.channel.removeEventListener('message', hear), { once: true });
  }

  close(): void {
    this.channel.close();
  }
}
