import { fileNameOf, isPdf } from '../core/chart/naming.ts';
import type { Progress } from '../host/messages.ts';
import { ChartProblem } from '../host/problem.ts';
import { LARGEST_FILE } from '../store/intake.ts';

export interface Fetched {
  readonly file: Blob;
  readonly name: string;
  readonly url: string;
}

export interface FetchOptions {
  /** Whether the player has granted that address's site. */
  readonly mayRead: (address: string) => Promise<boolean>;
  /** The player stops it. */
  readonly signal: AbortSignal;
  readonly onProgress: (progress: Progress) => void;
}

/** A site that sends nothing for so long has given up, ms. */
const SILENCE = 30_000;

/** Resolves as `work` does; rejects and aborts when it takes too long. */
async function soon<T>(work: Promise<T>, abort: AbortController, late: () => ChartProblem): Promise<T> {
  let timer: ReturnType<typeof setTimeout> | undefined;
  const over = new Promise<never>((_, reject) => {
    timer = setTimeout(() => {
      reject(late());
      abort.abort();
    }, SILENCE);
  });
  try {
    return await Promise.race([work, over]);
  } finally {
    clearTimeout(timer);
  }
}

/** A redirect to a host that is not granted fails like any other; asked not to follow, it shows itself. */
async function whyNot(address: string): Promise<ChartProblem> {
  const { host } = new URL(address);
  const unfollowed = await fetch(address, {
    credentials: 'include',
    redirect: 'manual',
    signal: AbortSignal.timeout(SILENCE),
  }).catch(() => null);
  return unfollowed?.type === 'opaqueredirect'
    ? new ChartProblem('redirected', fileNameOf(address, null), host)
    : new ChartProblem('unreachable', fileNameOf(address, null), host);
}

/** How long the body says it is; null where what comes is counted otherwise than what was sent. */
function lengthOf({ headers }: Response): number | null {
  const length = headers.get('content-length');
  return length !== null && headers.get('content-encoding') === null ? Number(length) : null;
}

/** Within so many bytes a PDF says that it is one. */
const HEAD = 1024;
/** Progress is told so often, ms. */
const TELL_EVERY = 200;

/** Reads a body as long as it can still be a PDF: a web page is let go after its first bytes. */
async function readPdf(
  response: Response,
  name: string,
  abort: AbortController,
  onProgress: FetchOptions['onProgress'],
): Promise<Blob> {
  const { host } = new URL(response.url);
  const total = lengthOf(response);
  let told = 0;
  const reader = response.body?.getReader();
  const chunks: Uint8Array<ArrayBuffer>[] = [];
  let size = 0;
  let known = false;
  const checkHead = async () => {
    const head = await new Blob(chunks).slice(0, HEAD).arrayBuffer();
    if (!isPdf(new Uint8Array(head))) throw new ChartProblem('not-pdf', name);
  };
  const next = async () => {
    const late = () => new ChartProblem('too-slow', name, host);
    return reader && soon(reader.read(), abort, late);
  };
  for (let part = await next(); part && !part.done; part = await next()) {
    chunks.push(part.value);
    size += part.value.length;
    if (performance.now() > told + TELL_EVERY) {
      told = performance.now();
      onProgress({ name, host, loaded: size, total });
    }
    if (!known && size >= HEAD) {
      await checkHead();
      known = true;
    }
    if (size > LARGEST_FILE) throw new ChartProblem('too-large', name);
  }
  if (size === 0) throw new ChartProblem('empty', name);
  if (!known) await checkHead();
  // Not every browser minds a body that is shorter than it was said to be.
  if (size < (total ?? 0)) throw new ChartProblem('broken-off', name, host);
  return new Blob(chunks);
}

/**
 * Fetches a PDF with the site's cookies, whole. A redirect is followed to the same host, and to another one only
 * where `mayRead` allows that. Throws ChartProblem.
 */
export async function fetchPdf(
  address: string,
  { mayRead, signal, onProgress }: FetchOptions,
): Promise<Fetched> {
  const abort = new AbortController();
  signal.addEventListener('abort', () => abort.abort(), { once: true });
  const { host, hostname } = new URL(address);
  const called = fileNameOf(address, null);
  const isStopped = () => signal.aborted;
  onProgress({ name: called, host, loaded: 0, total: null });
  const asked = fetch(address, { credentials: 'include', signal: abort.signal }).catch(() => null);
  const response = await soon(asked, abort, () => new ChartProblem('too-slow', called, host));
  if (isStopped()) throw new ChartProblem('stopped', called);
  if (!response) throw await whyNot(address);
  const url = response.url || address;
  const name = fileNameOf(url, response.headers.get('content-disposition'));
  try {
    // A host that hands its files to every site would be read without a grant.
    if (new URL(url).hostname !== hostname && !(await mayRead(url)))
      throw new ChartProblem('redirected', called, host);
    if (!response.ok) throw new ChartProblem('http', name, String(response.status));
    return { file: await readPdf(response, name, abort, onProgress), name, url };
  } catch (error) {
    abort.abort();
    if (isStopped()) throw new ChartProblem('stopped', name);
    if (error instanceof ChartProblem) throw error;
    // The connection broke in the middle.
    throw new ChartProblem('broken-off', name, new URL(url).host);
  }
}
