import type { PDFPageProxy } from 'pdfjs-dist';
import type { Ink, PageInk } from '../../core/find/types.ts';
import { remembered } from '../../core/remembered.ts';
import { LetterOutline } from './letter.ts';
import { matrixFrom, type Matrix } from './matrix.ts';
import { Outlines } from './outlines.ts';
import { fontFrom, type Font, type Operators } from './state.ts';
import { Walk, type OperatorNumbers } from './walk.ts';

export { Outlines } from './outlines.ts';

interface Objects {
  has(name: string): boolean;
  get(name: string): unknown;
}

/**
 * What a page paints, in page points. The file has to be opened with `outlines` (pdf.js's
 * `disableFontFace`), or boxes of letters come from their advance alone. `outlines` is one for all pages of
 * a file.
 */
export function inkOf(
  page: PDFPageProxy,
  operators: Operators,
  ops: OperatorNumbers,
  outlines = new Outlines(),
): PageInk {
  const { width, height, transform } = page.getViewport({ scale: 1 });
  const objects = page.commonObjs as Objects;
  const get = (name: string) => (objects.has(name) ? objects.get(name) : null);
  const letter = remembered((name: string) => {
    const path = pathIn(get(name));
    return path && new LetterOutline(path);
  });
  const walk = new Walk(
    ops,
    {
      font: remembered((name) => {
        const font = get(name) as Font | null;
        return font && fontFrom(font);
      }),
      letter: (font, fontChar) => letter(`${font.loadedName ?? ''}_path_${fontChar}`),
    },
    outlines,
    matrixFrom(transform) as Matrix,
  );
  const isWhole = walk.run(operators);
  return { width, height, ink: isWhole ? walk.ink.filter((ink) => isOn(ink, width, height)) : [] };
}

/** pdf.js's FontPath: the data of the outline under `path`. */
function pathIn(value: unknown): ArrayLike<number> | null {
  const path = (value as { path?: unknown } | null)?.path;
  return ArrayBuffer.isView(path) ? (path as unknown as ArrayLike<number>) : null;
}

/** The crop box hides what lies beyond it. */
function isOn(ink: Ink, width: number, height: number): boolean {
  const [x0, y0, x1, y1] =
    ink.kind === 'line' ? [ink.x0, Math.min(ink.y0, ink.y1), ink.x1, Math.max(ink.y0, ink.y1)] : ink.box;
  return x1 >= 0 && y1 >= 0 && x0 <= width && y0 <= height;
}
