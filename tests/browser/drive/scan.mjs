/** A sample as a scanner gives it: its pages as pictures, nothing else. */
import { readFileSync } from 'node:fs';
import { PDFDocument } from 'pdf-lib';
import { PNG } from 'pngjs';
import { openInk } from '../../../src/pdf/node.ts';
import { sample } from './index.mjs';

/**
 * @param {string} name of a sample, without its ending
 * @param {number} dpi
 * @returns as `choose` takes a file
 */
export async function scanOf(name, dpi = 150) {
  const ink = await openInk(new Uint8Array(readFileSync(sample(`${name}.pdf`))));
  const file = await PDFDocument.create();
  for (let index = 0; index < ink.pages; index++) {
    const { width, height, data } = await ink.grey(index, dpi);
    const png = new PNG({ width, height, colorType: 0, inputColorType: 0, inputHasAlpha: false });
    png.data = Buffer.from(data);
    const image = await file.embedPng(
      PNG.sync.write(png, { colorType: 0, inputColorType: 0, inputHasAlpha: false }),
    );
    const size = [(width * 72) / dpi, (height * 72) / dpi];
    file.addPage(size).drawImage(image, { x: 0, y: 0, width: size[0], height: size[1] });
  }
  await ink.destroy();
  return {
    name: `${name}-scan.pdf`,
    type: 'application/pdf',
    bytes: Buffer.from(await file.save()),
  };
}
