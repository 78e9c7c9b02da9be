/** Finds bars beside the page: opens the file for itself and answers the pages that it is asked for. */
import { Names } from '../../core/find/engraved/index.ts';
import { findOnPage } from '../../core/find/page.ts';
import { sentPage } from '../../core/find/sent.ts';
import { loadCode, readPages, type TurningReader } from '../../pdf/reader.ts';
import type { FindReply, FindRequest } from './messages.ts';

const answer = (reply: FindReply) => postMessage(reply);
const names = new Names();
let reader: TurningReader | null = null;

// Before the file is there. Whether it can be loaded is seen when that is opened.
loadCode().catch(() => undefined);

addEventListener('message', ({ data }: MessageEvent<FindRequest>) => void serve(data));

async function serve(request: FindRequest): Promise<void> {
  if (request.type === 'page') {
    // A page that cannot be read has no bars; the next one may.
    const { index, turn } = request;
    reader?.turn(index, turn);
    const found = reader && (await findOnPage(reader, index, names).catch(() => null));
    answer({ type: 'page', index, found: found && sentPage(found) });
    return;
  }
  try {
    const { bytes, password } = request.file;
    reader = await readPages(bytes, password);
    answer({ type: 'opened', pages: reader.pages });
  } catch {
    answer({ type: 'failed' });
  }
}
