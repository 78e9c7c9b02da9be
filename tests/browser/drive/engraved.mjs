/** Small pages of music, drawn line by line: made so that a thing happens that no sample does. */
import { PDFDocument, StandardFonts, rgb } from 'pdf-lib';

const SPACE = 6;
const [LEFT, RIGHT, WIDTH, HEIGHT] = [50, 545, 595, 842];
const black = rgb(0, 0, 0);

/**
 * @param {{ title: string, systems?: number, bars?: number, isShort?: (system: number, line: number) => boolean, repeats?: (system: number) => boolean, distance?: number, words?: [text: string, x: number][] }[]} pages
 *   one tune a page, ending with a final bar line; a short bar line stops 0.8 spaces inside the staff at both ends;
 *   `repeats`: behind its clef, a tall oval, such lines begin with a repeat; `distance`: from line to line, points;
 *   `words`: under the first line, from so many points on
 * @returns {Promise<Buffer>}
 */
export async function engrave(pages) {
  const file = await PDFDocument.create();
  const font = await file.embedFont(StandardFonts.TimesRomanBold);
  for (const {
    title,
    systems = 6,
    bars = 4,
    isShort = () => false,
    repeats = () => false,
    distance = 90,
    words = [],
  } of pages) {
    const page = file.addPage([WIDTH, HEIGHT]);
    const line = (x0, y0, x1, y1, thickness) =>
      page.drawLine({
        start: { x: x0, y: HEIGHT - y0 },
        end: { x: x1, y: HEIGHT - y1 },
        thickness,
        color: black,
      });
    page.drawText(title, {
      x: (WIDTH - font.widthOfTextAtSize(title, 22)) / 2,
      y: HEIGHT - 70,
      size: 22,
      font,
      color: black,
    });
    for (const [text, x] of words)
      page.drawText(text, { x, y: HEIGHT - 120 - 4 * SPACE - 16, size: 12, font, color: black });
    for (let s = 0; s < systems; s++) {
      const top = 120 + distance * s;
      for (let k = 0; k < 5; k++) line(LEFT, top + k * SPACE, RIGHT, top + k * SPACE, 0.7);
      if (repeats(s)) openRepeat(page, line, top);
      const width = (RIGHT - LEFT) / bars;
      const start = repeats(s) ? 44 : 30;
      for (let b = 0; b < bars; b++) {
        const end = LEFT + (b + 1) * width;
        const off = isShort(s, b + 1) ? 0.8 * SPACE : 0;
        const isLast = s === systems - 1 && b === bars - 1;
        line(end - (isLast ? 5 : 0), top + off, end - (isLast ? 5 : 0), top + 4 * SPACE - off, 1);
        if (isLast) line(end - 1.5, top, end - 1.5, top + 4 * SPACE, 3);
        for (let n = 0; n < 4; n++) {
          const x =
            LEFT + b * width + (b === 0 ? start : 14) + (n * (width - (b === 0 ? start + 10 : 24))) / 4;
          // Every bar another tune, so that none is another's twin.
          const step = ((s * 7 + b * 5 + n * 3) % 6) + 1;
          const y = top + (step * SPACE) / 2;
          page.drawEllipse({ x, y: HEIGHT - y, xScale: 0.62 * SPACE, yScale: 0.48 * SPACE, color: black });
          line(x + 0.56 * SPACE, y, x + 0.56 * SPACE, y - 3.5 * SPACE, 0.6);
        }
      }
    }
  }
  return Buffer.from(await file.save());
}

/** A clef and behind it the strokes and dots of a repeat. */
function openRepeat(page, line, top) {
  const oval = (x, y, xScale, yScale) => page.drawEllipse({ x, y: HEIGHT - y, xScale, yScale, color: black });
  oval(LEFT + 10, top + 2 * SPACE, 0.9 * SPACE, 2.6 * SPACE);
  line(LEFT + 22, top, LEFT + 22, top + 4 * SPACE, 3);
  line(LEFT + 26, top, LEFT + 26, top + 4 * SPACE, 1);
  for (const y of [1.5, 2.5]) oval(LEFT + 30, top + y * SPACE, 0.22 * SPACE, 0.22 * SPACE);
}

/** A file as `choose` takes it. */
export const pdfFile = async (name, pages) => ({
  name: `${name}.pdf`,
  type: 'application/pdf',
  bytes: await engrave(pages),
});
