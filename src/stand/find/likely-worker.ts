import { likelyTwins } from '../../core/find/chart/likely.ts';
import type { FoundPage } from '../../core/find/types.ts';

addEventListener('message', ({ data }: MessageEvent<readonly FoundPage[]>) => postMessage(likelyTwins(data)));
