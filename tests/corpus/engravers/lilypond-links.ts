/**
 * LilyPond's own account of what it drew, in the very file that it drew: over every staff and every bar line lies a
 * link whose address says what it is. A link paints nothing.
 */
import { getDocument, VerbosityLevel } from 'pdfjs-dist/legacy/build/pdf.mjs';
import type { BarLineKind } from '../../../src/core/find/types.ts';
import type { DrawnPage, TrueLine } from '../truth.ts';

/** Goes before `\score`. A staff's link says which system it is of, by a number. */
export const LINKS = `
#(define (linked s address y)
  (if (ly:stencil? s)
    (let ((x (ly:stencil-extent s X)))
      (ly:stencil-add s (ly:make-stencil (list 'url-link address x y) x (ly:stencil-extent s Y))))
    s))
#(define (linked-bar-line grob)
  (let ((s (ly:bar-line::print grob)) (kind (ly:grob-property grob 'glyph-name #f)))
    (if (and (ly:stencil? s) (string? kind) (not (string-null? kind)))
      (linked s (string-append "bar-line:" kind) (ly:stencil-extent s Y))
      s)))
#(define (linked-staff grob)
  (let* ((s (ly:staff-symbol::print grob))
         (half (/ (ly:staff-symbol-line-thickness grob) 2))
         (y (if (ly:stencil? s) (ly:stencil-extent s Y) (cons 0 0)))
         (system (hashq (ly:grob-system grob) 1000000000)))
    (linked s (format #f "staff:~a" system) (cons (+ (car y) half) (- (cdr y) half)))))
`;
/** Goes into the context Score of `\layout`. */
export const LINKED = `
  \\override BarLine.stencil = #linked-bar-line
  \\override StaffSymbol.stencil = #linked-staff
`;

const KINDS: Record<string, BarLineKind> = {
  '|': 'single',
  '||': 'double',
  '|.': 'final',
  ':|.': 'repeat-end',
  '.|:': 'repeat-start',
  ':|.|:': 'repeat-both',
};

interface Link {
  readonly address: string;
  readonly x0: number;
  readonly x1: number;
  readonly top: number;
  readonly bottom: number;
}

/** A page as LilyPond drew it: staves of one system, and their bar lines. */
function pageOf(width: number, height: number, links: readonly Link[]): DrawnPage {
  const staves = links
    .filter(({ address }) => address.startsWith('staff:'))
    .sort((a, b) => a.top - b.top || a.x0 - b.x0);
  const groups: Link[][] = [];
  for (const staff of staves) {
    const group = groups.at(-1);
    if (group?.[0]!.address === staff.address && group[0].top !== staff.top) group.push(staff);
    else groups.push([staff]);
  }
  const systems = groups.map((group) => {
    const [first, last] = [group[0]!, group.at(-1)!];
    const height = first.bottom - first.top;
    const own = links.filter(
      ({ address, top, bottom, x0, x1 }) =>
        address.startsWith('bar-line:') &&
        Math.abs((top + bottom) / 2 - (first.top + first.bottom) / 2) < Math.max(1, height / 4) &&
        // What stands at the very start of the lines ends no bar.
        x1 > first.x0 + 2 &&
        x0 < first.x1 + 1,
    );
    const lines = own.flatMap(({ address, x0, x1 }): TrueLine[] => {
      const kind = KINDS[address.slice('bar-line:'.length)];
      return kind === undefined ? [] : [{ x0, x1, kind }];
    });
    return {
      // A staff of one line is as high as its bar lines.
      top: first.bottom - first.top < 1 ? Math.min(first.top, ...own.map(({ top }) => top)) : first.top,
      bottom:
        last.bottom - last.top < 1 ? Math.max(last.bottom, ...own.map(({ bottom }) => bottom)) : last.bottom,
      x0: Math.min(...group.map(({ x0 }) => x0)),
      x1: Math.max(...group.map(({ x1 }) => x1)),
      staves: group.length,
      lines,
    };
  });
  return { width, height, systems };
}

/** The pages of a file that was engraved with the links. Throws pdf.js's errors. */
export async function linkedPages(data: Uint8Array): Promise<DrawnPage[]> {
  const task = getDocument({ data: new Uint8Array(data), verbosity: VerbosityLevel.ERRORS });
  const file = await task.promise;
  const pages: DrawnPage[] = [];
  for (let i = 1; i <= file.numPages; i++) {
    const page = await file.getPage(i);
    const { width, height } = page.getViewport({ scale: 1 });
    const found = (await page.getAnnotations()) as { unsafeUrl?: string; rect: number[] }[];
    const links = found.map(({ unsafeUrl = '', rect: [x0, low, x1, high] }) => ({
      address: unsafeUrl,
      x0: x0!,
      x1: x1!,
      top: height - high!,
      bottom: height - low!,
    }));
    pages.push(pageOf(width, height, links));
  }
  await task.destroy();
  return pages;
}
