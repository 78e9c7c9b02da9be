import type { PDFDocumentProxy } from 'pdfjs-dist';
import { turnOn } from '../core/chart/turn.ts';
import type { Turn, Turns } from '../core/chart/types.ts';

/**
 * From now on the pages of a document lie turned clockwise, as if their own /Rotate said so: for scans that lie on
 * their side. Sizes, drawings, cuts and what the finder reads all follow, because pdf.js asks the page itself.
 * @returns turns one page, from 0, otherwise
 */
export function turnDocument(document: PDFDocumentProxy, turns: Turns): (page: number, turn: Turn) => void {
  const getPage = document.getPage.bind(document);
  const turned = new WeakSet<object>();
  const otherwise = new Map<number, Turn>();
  const turnNow = (page: number) => otherwise.get(page) ?? turnOn(turns, page);
  document.getPage = async (number) => {
    const page = await getPage(number);
    // pdf.js gives the same page again.
    if (!turned.has(page)) {
      turned.add(page);
      const own = page.rotate;
      Object.defineProperty(page, 'rotate', { get: () => (own + turnNow(number - 1)) % 360 });
    }
    return page;
  };
  return (page, turn) => otherwise.set(page, turn);
}
