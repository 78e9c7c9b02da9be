/** Compares the bars of scanned pages with each other, beside the page: it takes longer than a frame. */
import { likelyTwins } from '../../core/find/chart/likely.ts';
import { proposalFrom } from '../../core/find/proposal.ts';
import type { CompareRequest } from './comparing.ts';

addEventListener('message', ({ data: { what, pages } }: MessageEvent<CompareRequest>) =>
  postMessage(what === 'likely' ? likelyTwins(pages) : proposalFrom(pages, () => crypto.randomUUID())),
);
