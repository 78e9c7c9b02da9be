import { degrees, PDFDocument, PDFName, PDFNumber, rgb } from 'pdf-lib';
import type { PageBox, Turn } from '../../../src/core/chart/types.ts';

export interface Drawn {
  readonly name: string;
  readonly bytes: Uint8Array;
  /** As the page is seen: fractions of the crop box after /Rotate. */
  readonly boxes: readonly PageBox[];
}

/** A box of the page as it lies on the page turned clockwise; fractions in, fractions out. */
export function turnBox([x0, y0, x1, y1]: PageBox, turn: Turn): PageBox {
  switch (turn) {
    case 0:
      return [x0, y0, x1, y1];
    case 90:
      return [1 - y1, x0, 1 - y0, x1];
    case 180:
      return [1 - x1, 1 - y1, 1 - x0, 1 - y0];
    case 270:
      return [y0, 1 - x1, y1, 1 - x0];
  }
}

interface Shape {
  readonly name: string;
  readonly rotate?: 0 | 90 | 180 | 270;
  readonly media: readonly [x: number, y: number, width: number, height: number];
  readonly crop?: readonly [x: number, y: number, width: number, height: number];
  readonly userUnit?: number;
  readonly pages?: number;
}

export const shapes: readonly Shape[] = [
  { name: 'plain', media: [0, 0, 595.28, 841.89] },
  { name: 'turned-90', media: [0, 0, 595.28, 841.89], rotate: 90 },
  { name: 'turned-180', media: [0, 0, 595.28, 841.89], rotate: 180 },
  { name: 'turned-270', media: [0, 0, 595.28, 841.89], rotate: 270 },
  { name: 'cropped', media: [-20, 10, 640, 880], crop: [37.5, 61.25, 480.4, 700.7], rotate: 90 },
  { name: 'user-unit', media: [0, 0, 297.64, 420.94], crop: [10, 12, 260, 380], userUnit: 2.5 },
  { name: 'long', media: [0, 0, 595.28, 841.89], pages: 14 },
];

/** Where the red rectangles are drawn: near the corners and in the middle, on no round numbers. */
const boxes: readonly PageBox[] = [
  [0.0313, 0.0217, 0.0972, 0.0513],
  [0.7731, 0.0339, 0.8417, 0.0641],
  [0.4519, 0.4827, 0.5183, 0.5129],
  [0.0291, 0.8911, 0.0957, 0.9207],
  [0.7919, 0.8831, 0.8583, 0.9133],
];

/** From a point as seen to user space, worked out from PDF 1.7, 8.3.2.3 and table 30 alone. */
function toUser(fx: number, fy: number, rotate: number, crop: readonly number[]): [x: number, y: number] {
  const [cx, cy, width, height] = crop as [number, number, number, number];
  const [u, v] =
    rotate === 90
      ? [fy, 1 - fx]
      : rotate === 180
        ? [1 - fx, 1 - fy]
        : rotate === 270
          ? [1 - fy, fx]
          : [fx, fy];
  return [cx + u * width, cy + (1 - v) * height];
}

/** A chart with red rectangles at known places. */
export async function draw(shape: Shape): Promise<Drawn> {
  const file = await PDFDocument.create();
  const rotate = shape.rotate ?? 0;
  const crop = shape.crop ?? shape.media;
  for (let number = 0; number < (shape.pages ?? 1); number++) {
    const page = file.addPage();
    page.setMediaBox(...shape.media);
    page.setCropBox(...crop);
    page.setRotation(degrees(rotate));
    if (shape.userUnit) page.node.set(PDFName.of('UserUnit'), PDFNumber.of(shape.userUnit));
    for (const [x0, y0, x1, y1] of boxes) {
      const [ax, ay] = toUser(x0, y0, rotate, crop);
      const [bx, by] = toUser(x1, y1, rotate, crop);
      page.drawRectangle({
        x: Math.min(ax, bx),
        y: Math.min(ay, by),
        width: Math.abs(bx - ax),
        height: Math.abs(by - ay),
        color: rgb(1, 0, 0),
      });
    }
  }
  return { name: shape.name, bytes: await file.save(), boxes };
}
