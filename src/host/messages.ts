import browser from 'webextension-polyfill';

const PORT = 'fetch-chart';

/** How far a PDF is on its way from a site. */
export interface Progress {
  readonly name: string;
  readonly host: string;
  /** Bytes that have come, and how many there will be; null where the site does not say. */
  readonly loaded: number;
  readonly total: number | null;
}

/** The chart's key, or the parameters of the line that says why not (tunes/problems.ts). */
export type FetchAnswer = { readonly chart: string } | { readonly problem: Readonly<Record<string, string>> };

type Told = { readonly progress: Progress } | { readonly answer: FetchAnswer };

export interface FetchOptions {
  /** Stops it. */
  readonly signal: AbortSignal;
  readonly onProgress: (progress: Progress) => void;
}

/**
 * Asks the background to fetch a PDF: pages connect nowhere. The fetch ends with the page. Null when it was stopped,
 * or the background has gone.
 */
export function askToFetch(url: string, { signal, onProgress }: FetchOptions): Promise<FetchAnswer | null> {
  return new Promise((resolve) => {
    const port = browser.runtime.connect({ name: PORT });
    const end = (answer: FetchAnswer | null) => {
      signal.removeEventListener('abort', stop);
      port.disconnect();
      resolve(answer);
    };
    const stop = () => end(null);
    signal.addEventListener('abort', stop);
    port.onDisconnect.addListener(stop);
    port.onMessage.addListener((message: unknown) => {
      const told = message as Told;
      if ('answer' in told) end(told.answer);
      else onProgress(told.progress);
    });
    port.postMessage({ url });
  });
}

const urlIn = (message: unknown): string | null =>
  typeof message === 'object' && message !== null && 'url' in message && typeof message.url === 'string'
    ? message.url
    : null;

/** Answers `askToFetch`. Only our own pages can reach this: nothing outside is allowed to connect. */
export function onFetchAsked(answer: (url: string, options: FetchOptions) => Promise<FetchAnswer>): void {
  browser.runtime.onConnect.addListener((port) => {
    if (port.name !== PORT) return;
    const gone = new AbortController();
    const tell = (told: Told) => {
      if (!gone.signal.aborted) port.postMessage(told);
    };
    port.onDisconnect.addListener(() => gone.abort());
    port.onMessage.addListener((message: unknown) => {
      const url = urlIn(message);
      if (url === null) return;
      const onProgress = (progress: Progress) => tell({ progress });
      void answer(url, { signal: gone.signal, onProgress }).then((said) => tell({ answer: said }));
    });
  });
}
