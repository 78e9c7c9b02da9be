/** A page as a scanner leaves it, for the bench. */
import { createCanvas } from '@napi-rs/canvas';
import type { Picture } from '../../src/core/find/pixels/index.ts';
import { suffer } from '../corpus/scans/defects.ts';
import { print } from '../corpus/scans/print.ts';
// @ts-expect-error -- plain JavaScript, as the browser tests are
import * as pdf from '../files/pdf.mjs';

const { picturePage, stream } = pdf as {
  picturePage: (image: Uint8Array, size: { width: number; height: number }) => Uint8Array;
  stream: (data: Uint8Array, dictionary: string) => Uint8Array;
};

/** As scanners set it by themselves. */
const QUALITY = 80;

function jpegOf({ width, height, data }: Picture): Uint8Array {
  const canvas = createCanvas(width, height);
  const context = canvas.getContext('2d');
  const image = context.createImageData(width, height);
  for (const [i, grey] of data.entries()) image.data.set([grey, grey, grey, 255], 4 * i);
  context.putImageData(image, 0, 0);
  return canvas.encodeSync('jpeg', QUALITY);
}

/** A file's first page turned a little, soft and noisy, as one JPEG of so many pixels to the inch. */
export function scanned(file: string, dpi: number): Uint8Array {
  const { picture } = suffer(print(file, 0, dpi), 'scanned', 0, dpi);
  const { width, height } = picture;
  const image = stream(
    jpegOf(picture),
    `/Type /XObject /Subtype /Image /Width ${width} /Height ${height} /ColorSpace /DeviceRGB /BitsPerComponent 8 /Filter /DCTDecode`,
  );
  return picturePage(image, { width: (width * 72) / dpi, height: (height * 72) / dpi });
}
