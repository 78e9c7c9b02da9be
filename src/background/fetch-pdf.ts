import { fileNameOf, isPdf } from '../core/chart/naming.ts';
import { ChartProblem } from '../host/problem.ts';

export interface Fetched {
  readonly bytes: Uint8Array<ArrayBuffer>;
  readonly name: string;
  readonly url: string;
}

/** A redirect to a host that is not granted fails like any other; asked not to follow, it shows itself. */
async function whyNot(address: string): Promise<ChartProblem> {
  const { host } = new URL(address);
  const unfollowed = await fetch(address, { credentials: 'include', redirect: 'manual' }).catch(() => null);
  return unfollowed?.type === 'opaqueredirect'
    ? new ChartProblem('redirected', fileNameOf(address, null), host)
    : new ChartProblem('unreachable', fileNameOf(address, null), host);
}

function joined(chunks: readonly Uint8Array[], size: number): Uint8Array<ArrayBuffer> {
  const all = new Uint8Array(size);
  let at = 0;
  for (const chunk of chunks) {
    all.set(chunk, at);
    at += chunk.length;
  }
  return all;
}

/** Reads a body as long as it can still be a PDF: a web page is let go after its first bytes. */
async function readPdf(response: Response, name: string): Promise<Uint8Array<ArrayBuffer>> {
  const reader = response.body?.getReader();
  const chunks: Uint8Array[] = [];
  let size = 0;
  let known = false;
  for (let next = await reader?.read(); next && !next.done; next = await reader?.read()) {
    chunks.push(next.value);
    size += next.value.length;
    if (!known && size >= 1024) {
      if (!isPdf(joined(chunks, size))) {
        await reader?.cancel();
        throw new ChartProblem('not-pdf', name);
      }
      known = true;
    }
  }
  const bytes = joined(chunks, size);
  if (size === 0) throw new ChartProblem('empty', name);
  if (!isPdf(bytes)) throw new ChartProblem('not-pdf', name);
  return bytes;
}

/** Fetches a PDF with the site's cookies. Throws ChartProblem. */
export async function fetchPdf(address: string): Promise<Fetched> {
  const response = await fetch(address, { credentials: 'include' }).catch(() => null);
  if (!response) throw await whyNot(address);
  const url = response.url || address;
  const name = fileNameOf(url, response.headers.get('content-disposition'));
  if (!response.ok) throw new ChartProblem('http', name, String(response.status));
  try {
    return { bytes: await readPdf(response, name), name, url };
  } catch (error) {
    if (error instanceof ChartProblem) throw error;
    // The connection broke in the middle.
    throw new ChartProblem('unreachable', name, new URL(url).host);
  }
}
