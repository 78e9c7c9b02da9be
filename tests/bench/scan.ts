/** A page as a scanner leaves it, for the bench. */
import type { Picture } from '../../src/core/find/pixels/index.ts';
import { suffer } from '../corpus/scans/defects.ts';
import { print } from '../corpus/scans/print.ts';
// @ts-expect-error -- plain JavaScript, as the browser tests are
import * as images from '../files/images.mjs';
// @ts-expect-error -- as above
import * as pdf from '../files/pdf.mjs';

const { jpeg } = images as { jpeg: (picture: Picture, rgb: Uint8Array, quality: number) => Uint8Array };
const { picturePage, stream } = pdf as {
  picturePage: (image: Uint8Array, size: { width: number; height: number }) => Uint8Array;
  stream: (data: Uint8Array, dictionary: string) => Uint8Array;
};

/** As scanners set it by themselves. */
const QUALITY = 80;

/** A file's first page turned a little, soft and noisy, as one JPEG of so many pixels to the inch. */
export function scanned(file: string, dpi: number): Uint8Array {
  const { picture } = suffer(print(file, 0, dpi), 'scanned', 0, dpi);
  const { width, height, data } = picture;
  const rgb = Uint8Array.from({ length: 3 * data.length }, (_, i) => data[Math.floor(i / 3)]!);
  const image = stream(
    jpeg(picture, rgb, QUALITY),
    `/Type /XObject /Subtype /Image /Width ${width} /Height ${height} /ColorSpace /DeviceRGB /BitsPerComponent 8 /Filter /DCTDecode`,
  );
  return picturePage(image, { width: (width * 72) / dpi, height: (height * 72) / dpi });
}
