/** Pages on which several of the sample charts stand. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { PDFDocument, StandardFonts, type PDFPage } from 'pdf-lib';

const A4 = { width: 595, height: 842 };
/** The samples have their music in the upper part of the page: so much of it is taken. */
const PART = 0.6;

/** A sheet with these samples below each other: of each its first page, as a drawing inside a drawing. */
export const sheetOf = (...names: string[]): Promise<Uint8Array> => sheetsOf([names]);

/** Several such sheets, one after the other. */
export async function sheetsOf(sheets: readonly (readonly string[])[]): Promise<Uint8Array> {
  const pdf = await PDFDocument.create();
  for (const names of sheets) await draw(pdf.addPage([A4.width, A4.height]), names, 30, 1);
  return pdf.save();
}

/** A sheet on its side with two columns of samples, half as large, and perhaps a title over both. */
export async function columnsOf(
  left: readonly string[],
  right: readonly string[],
  title = '',
): Promise<Uint8Array> {
  const pdf = await PDFDocument.create();
  const page = pdf.addPage([A4.height, A4.width]);
  const font = await pdf.embedFont(StandardFonts.TimesRoman);
  const x = (A4.height - font.widthOfTextAtSize(title, 20)) / 2;
  page.drawText(title, { x, y: A4.width - 22, size: 20, font });
  await draw(page, left, 30, 0.6);
  await draw(page, right, A4.height / 2 + 30, 0.6);
  return pdf.save();
}

/** Draws samples below each other, each as large as its share of the height allows, from the top at x. */
async function draw(page: PDFPage, names: readonly string[], x: number, most: number) {
  const high = page.getHeight() / names.length;
  for (const [i, name] of names.entries()) {
    const file = resolve(import.meta.dirname, `../sample-pdfs/${name}.pdf`);
    const [first] = (await PDFDocument.load(readFileSync(file))).getPages();
    const { width, height } = first!.getSize();
    const part = { left: 0, right: width, bottom: (1 - PART) * height, top: height };
    const drawing = await page.doc.embedPage(first!, part);
    const scale = Math.min(most, high / (PART * height));
    page.drawPage(drawing, { x, y: page.getHeight() - (i + 1) * high, xScale: scale, yScale: scale });
  }
}
