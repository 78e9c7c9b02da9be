/** pdf.js with its worker's code in this thread, and without what it costs there to talk to oneself. */
import type { PDFWorker } from 'pdfjs-dist';

/** What pdf.js's worker says of a page: its operators come in chunks, whose two arrays it empties for the next. */
interface Message {
  readonly chunk?: { readonly fnArray?: readonly number[]; readonly argsArray?: readonly unknown[] } | null;
}
type Listener = (event: { data: Message }) => void;

/**
 * One end of a channel within this thread. pdf.js has a channel of its own for this, which clones every message and
 * moves the buffer of each path over by itself: on a page of music that takes as long as reading it.
 */
class Port {
  readonly #listeners = new Set<Listener>();
  other: Port | null = null;

  postMessage(message: Message): void {
    const data = kept(message);
    queueMicrotask(() => this.other?.hear({ data }));
  }

  hear(event: { data: Message }): void {
    for (const listener of this.#listeners) listener(event);
  }

  addEventListener(name: string, listener: Listener, { signal }: AddEventListenerOptions = {}): void {
    if (name !== 'message' || signal?.aborted === true) return;
    this.#listeners.add(listener);
    signal?.addEventListener('abort', () => this.#listeners.delete(listener));
  }

  removeEventListener(_name: string, listener: Listener): void {
    this.#listeners.delete(listener);
  }

  terminate(): void {
    this.#listeners.clear();
  }
}

/** A message as it is now: the only part of one that is written to after it was sent is copied. */
function kept(message: Message): Message {
  const { fnArray, argsArray, ...chunk } = message.chunk ?? {};
  if (!fnArray || !argsArray) return message;
  return { ...message, chunk: { ...chunk, fnArray: fnArray.slice(), argsArray: argsArray.slice() } };
}

/** What the module of pdf.js's worker exports. */
export interface WorkerCode {
  readonly WorkerMessageHandler: { initializeFromPort(port: unknown): void };
}

/** A worker for `getDocument` whose code, of the same build, runs in this thread. The caller destroys it. */
export function workerHere(
  pdfjs: { readonly PDFWorker: typeof PDFWorker },
  { WorkerMessageHandler }: WorkerCode,
): PDFWorker {
  const [ours, theirs] = [new Port(), new Port()];
  [ours.other, theirs.other] = [theirs, ours];
  // pdf.js uses of a port what ours has.
  const worker = pdfjs.PDFWorker.create({ port: ours as unknown as Worker });
  WorkerMessageHandler.initializeFromPort(theirs);
  return worker;
}
