/** Finds bars beside the page: opens the file for itself and answers a page at a time. */
import { findInInk } from '../../core/find/engraved/index.ts';
import { findPixels } from '../../core/find/pixels/index.ts';
import type { FoundPage } from '../../core/find/types.ts';
import { readPages, type PageReader } from '../../pdf/reader.ts';
import type { FindReply, FindRequest } from './messages.ts';

const answer = (reply: FindReply) => postMessage(reply);

/** What the page paints says most; where it paints no staves, its pixels are looked at. */
async function findOn(reader: PageReader, index: number): Promise<FoundPage> {
  const ink = await reader.ink(index);
  const engraved = findInInk(ink, index);
  if (engraved.systems.length > 0 || !ink.ink.some(({ kind }) => kind === 'image')) return engraved;
  return findPixels(await reader.grey(index), index, ink);
}

addEventListener('message', ({ data }: MessageEvent<FindRequest>) => void find(data));

async function find({ bytes, password, from }: FindRequest): Promise<void> {
  let reader: PageReader;
  try {
    reader = await readPages(bytes, password);
  } catch {
    answer({ type: 'failed' });
    return;
  }
  answer({ type: 'opened', pages: reader.pages });
  for (let index = from; index < reader.pages; index++) {
    // A page that cannot be read has no bars; the next one may.
    const found = await findOn(reader, index).catch(() => null);
    answer({ type: 'page', index, found });
  }
}
