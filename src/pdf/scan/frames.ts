/** Pictures that the browser's own decoder has decoded, as bytes. */
import { lumaOf } from '../../core/find/pixels/picture.ts';
import { GREY, type Decoded } from './decoded.ts';

/** A picture as pdf.js has it from the browser: a JPEG, without its bytes. */
export interface Framed {
  readonly width: number;
  readonly height: number;
  readonly bitmap?: unknown;
}

export const isFrame = (bitmap: unknown): bitmap is VideoFrame =>
  typeof VideoFrame !== 'undefined' && bitmap instanceof VideoFrame;

/** So many pixels are taken at once: a large scan is not in memory twice, and a usual one not taken in pieces. */
const TOGETHER = 6e6;

/** In grey; null where the browser does not give its bytes. */
export async function greyOfFrame(frame: VideoFrame, { width, height }: Framed): Promise<Decoded | null> {
  const { visibleRect, format } = frame;
  if (visibleRect?.width !== width || visibleRect.height !== height || format === null) return null;
  const data = new Uint8Array(width * height);
  const isLuma = /^(?:I4|NV12$)/.test(format) && frame.colorSpace.fullRange === true;
  const isBlueFirst = format.startsWith('BGR');
  if (!isLuma && !isBlueFirst && !format.startsWith('RGB')) return null;
  try {
    const most = Math.ceil(TOGETHER / width);
    for (let y = 0; y < height; y += most) {
      const count = Math.min(most, height - y);
      const rect = { x: visibleRect.x, y: visibleRect.y + y, width, height: count };
      const bytes = new Uint8Array(frame.allocationSize({ rect }));
      const [{ offset, stride }] = (await frame.copyTo(bytes, { rect })) as [PlaneLayout];
      for (let k = 0; k < count; k++) {
        const row = bytes.subarray(offset + k * stride, offset + (k + 1) * stride);
        const out = data.subarray((y + k) * width, (y + k + 1) * width);
        // The first plane is how light it is: what JPEGs hold.
        if (isLuma) out.set(row.subarray(0, width));
        else fromFour(row, out, isBlueFirst ? 2 : 0);
      }
    }
  } catch {
    return null;
  }
  return { width, height, kind: GREY, data };
}

/** @param red where red stands in a pixel's four bytes; blue stands at the other side of green */
function fromFour(row: Uint8Array, out: Uint8Array, red: 0 | 2): void {
  for (let x = 0, i = 0; x < out.length; x++, i += 4)
    out[x] = lumaOf(row[i + red]!, row[i + 1]!, row[i + 2 - red]!);
}
