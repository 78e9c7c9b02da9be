/** Finds bars beside the page: opens the file for itself and answers a page at a time. */
import { Names } from '../../core/find/engraved/index.ts';
import { findOnPage } from '../../core/find/page.ts';
import { readPages, type PageReader } from '../../pdf/reader.ts';
import type { FindReply, FindRequest } from './messages.ts';

const answer = (reply: FindReply) => postMessage(reply);

addEventListener('message', ({ data }: MessageEvent<FindRequest>) => void find(data));

async function find({ bytes, password, turn, from }: FindRequest): Promise<void> {
  let reader: PageReader;
  try {
    reader = await readPages(bytes, password, turn);
  } catch {
    answer({ type: 'failed' });
    return;
  }
  answer({ type: 'opened', pages: reader.pages });
  const names = new Names();
  for (let index = from; index < reader.pages; index++) {
    // A page that cannot be read has no bars; the next one may.
    const found = await findOnPage(reader, index, names).catch(() => null);
    answer({ type: 'page', index, found });
  }
}
