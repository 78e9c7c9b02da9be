import browser from 'webextension-polyfill';

/** What our pages ask of the background. */
export interface FetchRequest {
  readonly type: 'fetch-chart';
  readonly url: string;
}

/** The chart's key, or the parameters of the line that says why not (tunes/problems.ts). */
export type FetchAnswer = { readonly chart: string } | { readonly problem: Readonly<Record<string, string>> };

/** Asks the background to fetch a PDF: pages connect nowhere. */
export async function askToFetch(url: string): Promise<FetchAnswer> {
  const request: FetchRequest = { type: 'fetch-chart', url };
  return await browser.runtime.sendMessage(request);
}

function isFetchRequest(message: unknown): message is FetchRequest {
  return (
    typeof message === 'object' &&
    message !== null &&
    'type' in message &&
    message.type === 'fetch-chart' &&
    'url' in message &&
    typeof message.url === 'string'
  );
}

/** Answers `askToFetch`. Only our own pages can reach this: nothing outside is allowed to connect. */
export function onFetchRequest(answer: (url: string) => Promise<FetchAnswer>): void {
  browser.runtime.onMessage.addListener((message: unknown) =>
    isFetchRequest(message) ? answer(message.url) : undefined,
  );
}
