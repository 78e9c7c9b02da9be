/** Pages on which several of the sample charts stand. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { PDFDocument } from 'pdf-lib';

const A4 = { width: 595, height: 842 };
/** The samples have their music in the upper part of the page: so much of it is taken. */
const PART = 0.6;

/** A sheet with these samples below each other: of each its first page, as a drawing inside a drawing. */
export const sheetOf = (...names: string[]): Promise<Uint8Array> => sheetsOf([names]);

/** Several such sheets, one after the other. */
export async function sheetsOf(sheets: readonly (readonly string[])[]): Promise<Uint8Array> {
  const pdf = await PDFDocument.create();
  for (const names of sheets) {
    const page = pdf.addPage([A4.width, A4.height]);
    for (const [i, name] of names.entries()) {
      const file = resolve(import.meta.dirname, `../sample-pdfs/${name}.pdf`);
      const [first] = (await PDFDocument.load(readFileSync(file))).getPages();
      const { width, height } = first!.getSize();
      const part = { left: 0, right: width, bottom: (1 - PART) * height, top: height };
      const drawing = await pdf.embedPage(first!, part);
      const high = A4.height / names.length;
      const scale = Math.min(1, high / (PART * height));
      page.drawPage(drawing, { x: 30, y: A4.height - (i + 1) * high, xScale: scale, yScale: scale });
    }
  }
  return pdf.save();
}
