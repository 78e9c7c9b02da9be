import type { PDFDocumentProxy } from 'pdfjs-dist';
import { NOT_TURNED } from '../core/chart/turn.ts';
import type { Turns } from '../core/chart/types.ts';
import { connect, named, PATIENCE, type ConnectOptions } from './connect.ts';
import { BrokenPdf, EmptyPdf } from './errors.ts';
import { patience } from './patience.ts';
import { turnDocument } from './turn.ts';

/** Width and height of a page in points: crop box × UserUnit, after the page's own /Rotate. */
export interface PageSize {
  readonly width: number;
  readonly height: number;
}

export interface PdfFile {
  /** pdf.js's own handle, for this folder only. */
  readonly document: PDFDocumentProxy;
  /** Until `sized`, the pages of a long file are taken to be as large as the one wanted first. */
  readonly pages: readonly PageSize[];
  /** Those whose sizes have been read, from 0. */
  readonly known: readonly number[];
  /** Reads the other sizes into `pages`; a long file has the page wanted first drawn before. Gives `known`. */
  sized(): Promise<readonly number[]>;
  /** What opened it; null for a file that is not locked. */
  readonly password: string | null;
  /** Ends the worker, which hangs over a page, and opens the file with a new one: `document` is another then. */
  renew(): Promise<void>;
  /** Lets go of the large pictures that were decoded to draw a page (from 0); another drawing decodes them anew. */
  relieve(page: number): Promise<void>;
  /** Frees the worker and everything drawn from this file. */
  destroy(): Promise<void>;
}

export interface OpenOptions extends ConnectOptions {
  /** The page wanted first, from 0; asked once the bytes are there. */
  readonly first?: () => number;
  /** How far the pages are turned after their own rotation; asked once the bytes have come. */
  readonly turns?: () => Turns;
}

/**
 * Opens a PDF with a worker of its own, which starts at once, while bytes that are only promised are on their
 * way. The given bytes stay the caller's.
 * @throws the promise's reason; NotAPdf, BrokenPdf, EmptyPdf, NeedsPassword, TooSlow; the signal's reason when
 * aborted.
 */
export async function openPdf(
  data: Blob | Uint8Array | Promise<Blob | Uint8Array>,
  options: OpenOptions = {},
): Promise<PdfFile> {
  const { signal, first = () => 0 } = options;
  let now = await connect(data, options);
  const limit = patience(PATIENCE, signal);
  try {
    const { document, password } = now;
    const turns = options.turns?.() ?? NOT_TURNED;
    turnDocument(document, turns);
    if (document.numPages < 1) throw new EmptyPdf();
    const all = upTo(Math.min(MOST, document.numPages));
    const known = all.length > FEW ? [Math.min(first(), document.numPages - 1)] : all;
    limit.stir();
    const pages = await Promise.race([firstSizes(document, known), limit.over]);
    signal?.throwIfAborted();
    let renewed: () => void = () => undefined;
    const readAll = async (): Promise<readonly number[]> => {
      // A worker that hangs never answers; the next one is asked again.
      const again = new Promise<null>((resolve) => (renewed = () => resolve(null)));
      const read = await Promise.race([readSizes(now.document, all), again]);
      if (!read) return readAll();
      for (const [index, size] of read) pages[index] = size;
      return all;
    };
    let reading: Promise<readonly number[]> | null =
      known.length < all.length ? null : Promise.resolve(known);
    return {
      get document() {
        return now.document;
      },
      pages,
      known,
      sized: () => (reading ??= readAll()),
      password,
      async renew() {
        const old = now;
        // It was opened before: the same password opens it again.
        now = await connect(data, {
          askPassword: () => Promise.resolve(password ?? ''),
          ...(signal && { signal }),
        });
        turnDocument(now.document, turns);
        renewed();
        await old.close();
      },
      relieve: (page) => relieve(now.document, page),
      destroy: () => now.close(),
    };
  } catch (error) {
    await now.close();
    signal?.throwIfAborted();
    throw named(error);
  } finally {
    limit.rest();
  }
}

/** Pictures of a page that take less are kept, bytes: it is soon drawn again where the player zooms. */
const LARGE_PICTURES = 64e6;

async function relieve(document: PDFDocumentProxy, index: number): Promise<void> {
  const page = await document.getPage(index + 1);
  let bytes = 0;
  for (const [, data] of page.objs as Iterable<[string, { dataLen?: number } | null]>)
    bytes += data?.dataLen ?? 0;
  // Nothing is freed while it is being drawn.
  if (bytes >= LARGE_PICTURES) page.cleanup();
}

/** A file of more pages shows its first page before the sizes of the others are read. */
const FEW = 8;
/** pdf.js walks the page tree anew for each page: behind so many, all pages are taken to be as large as the first. */
const MOST = 2000;

async function sizeOf(document: PDFDocumentProxy, index: number): Promise<PageSize | null> {
  try {
    const { width, height } = (await document.getPage(index + 1)).getViewport({ scale: 1 });
    return { width, height };
  } catch {
    return null;
  }
}

const upTo = (count: number) => Array.from({ length: count }, (_, index) => index);

/** The sizes of those pages that can be read. */
async function readSizes(
  document: PDFDocumentProxy,
  pages: readonly number[],
): Promise<Map<number, PageSize>> {
  const read = await Promise.all(pages.map(async (index) => [index, await sizeOf(document, index)] as const));
  return new Map(read.filter((each): each is readonly [number, PageSize] => each[1] !== null));
}

/**
 * All pages, as far as `known` tells them. One that cannot be read gets the size of the first that can: its neighbours
 * stay usable.
 */
async function firstSizes(document: PDFDocumentProxy, known: readonly number[]): Promise<PageSize[]> {
  const read = await readSizes(document, known);
  let [some] = read.values();
  for (let index = 0; !some && index < document.numPages; index++)
    some = (await sizeOf(document, index)) ?? undefined;
  if (!some) throw new BrokenPdf('no page can be read');
  return upTo(document.numPages).map((index) => read.get(index) ?? some);
}
