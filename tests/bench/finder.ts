/** What finding takes, as one module: bundled as it is shipped, not as a runner of TypeScript changes it. */
import { Names } from '../../src/core/find/engraved/index.ts';
import { findOnPage } from '../../src/core/find/page.ts';
import { openForFinding, openInk, packedInNode } from '../../src/pdf/node.ts';

/** What can be done with a file's first page, from its bytes on; `dpi` is that of the drawing. */
export type Work = (bytes: Uint8Array, dpi: number) => Promise<void>;

export const find: Work = async (bytes) => {
  const opened = await openInk(bytes);
  await findOnPage(opened, 0, new Names());
  await opened.destroy();
};

/** As any reader of PDFs does it with pdf.js; there is no font to be loaded in Node, so letters are paths. */
export const draw: Work = async (bytes, dpi) => {
  const { getDocument, VerbosityLevel } = await import('pdfjs-dist/legacy/build/pdf.mjs');
  const task = getDocument({
    data: bytes.slice(),
    ...packedInNode(),
    verbosity: VerbosityLevel.ERRORS,
  });
  const document = await task.promise;
  const page = await document.getPage(1);
  const viewport = page.getViewport({ scale: dpi / 72 });
  const factory = document.canvasFactory as Canvases;
  const { canvas, context } = factory.create(Math.round(viewport.width), Math.round(viewport.height));
  await page.render({ canvas, canvasContext: context, viewport, background: 'white' }).promise;
  // Whatever was put off is drawn by now.
  context.getImageData(0, 0, 1, 1);
  await task.destroy();
};

/** The slice of pdf.js's canvas factory that is needed. */
interface Canvases {
  create(width: number, height: number): { canvas: HTMLCanvasElement; context: CanvasRenderingContext2D };
}

interface Objects {
  get(name: string, then: () => void): unknown;
}

/** What of finding is pdf.js's own: the page's operators, with the fonts and pictures that they name. */
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
