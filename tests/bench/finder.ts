/** What finding takes, as one module: bundled as it is shipped, not as a runner of TypeScript changes it. */
import { Names } from '../../src/core/find/engraved/index.ts';
import { findOnPage } from '../../src/core/find/page.ts';
import { openForFinding, openInk } from '../../src/pdf/node.ts';

/** What can be done with a file's first page, from its bytes on; `dpi` is that of the drawing. */
export type Work = (bytes: Uint8Array, dpi: number) => Promise<void>;

export const find: Work = async (bytes) => {
  const opened = await openInk(bytes);
  await findOnPage(opened, 0, new Names());
  await opened.destroy();
};

export const draw: Work = async (bytes, dpi) => {
  const opened = await openInk(bytes);
  await opened.drawn(0, dpi);
  await opened.destroy();
};

interface Objects {
  get(name: string, then: () => void): unknown;
}

/** What pdf.js alone does of either: the page's operators, with the fonts and pictures that they name. */
export const read: Work = async (bytes) => {
  const { document, ops, destroy } = await openForFinding(bytes);
  const page = await document.getPage(1);
  const { fnArray, argsArray } = await page.getOperatorList();
  const named = fnArray.flatMap((code, i) => (code === ops.dependency ? (argsArray[i] as string[]) : []));
  const [own, common] = [page.objs as Objects, page.commonObjs as Objects];
  await Promise.all(
    named.map((name) => new Promise<void>((done) => (name.startsWith('g_') ? common : own).get(name, done))),
  );
  await destroy();
};

/** Loads pdf.js, which is no part of what is timed. */
export async function load(): Promise<void> {
  await import('pdfjs-dist/legacy/build/pdf.mjs');
  // @ts-expect-error -- it has no types; pdf.js loads it by itself with the first file
  await import('pdfjs-dist/legacy/build/pdf.worker.mjs');
}
