import type { PDFDocumentProxy } from 'pdfjs-dist';
import type { Turn } from '../core/chart/types.ts';

/**
 * From now on every page of a document lies turned clockwise, as if its own /Rotate said so: for scans that lie
 * on their side. Sizes, drawings, cuts and what the finder reads all follow, because pdf.js asks the page itself.
 */
export function turnDocument(document: PDFDocumentProxy, turn: Turn): void {
  if (turn === 0) return;
  const getPage = document.getPage.bind(document);
  const turned = new WeakSet<object>();
  document.getPage = async (number) => {
    const page = await getPage(number);
    // pdf.js gives the same page again.
    if (!turned.has(page)) {
      turned.add(page);
      Object.defineProperty(page, 'rotate', { value: (page.rotate + turn) % 360 });
    }
    return page;
  };
}
