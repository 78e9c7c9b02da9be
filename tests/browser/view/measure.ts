import { PNG } from 'pngjs';

export interface Edges {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** How much of a pixel is covered, on white: red lacks green, blue lacks red. */
const lacking = { red: 1, blue: 0 } as const;

/**
 * The edges of a rectangle of one colour in a screenshot, to a fraction of a pixel: pixels half covered count
 * half. `about` (device px) is where it should be; it is looked for `around` px further on each side.
 */
export function edgesOf(shot: PNG, colour: keyof typeof lacking, about: Edges, around: number): Edges {
  const midX = Math.round((about.left + about.right) / 2);
  const midY = Math.round((about.top + about.bottom) / 2);
  const covered = (x: number, y: number) => {
    if (x < 0 || y < 0 || x >= shot.width || y >= shot.height) return 0;
    return 1 - shot.data[(y * shot.width + x) * 4 + lacking[colour]]! / 255;
  };
  if (covered(midX, midY) < 0.9) throw new Error(`no ${colour} rectangle at ${midX}, ${midY}`);
  const sum = (from: number, to: number, at: (n: number) => number) => {
    let total = 0;
    for (let n = from; n < to; n++) total += at(n);
    return total;
  };
  const acrossX = (x: number) => covered(x, midY);
  const acrossY = (y: number) => covered(midX, y);
  return {
    left: midX - sum(Math.floor(about.left - around), midX, acrossX),
    right: midX + sum(midX, Math.ceil(about.right + around), acrossX),
    top: midY - sum(Math.floor(about.top - around), midY, acrossY),
    bottom: midY + sum(midY, Math.ceil(about.bottom + around), acrossY),
  };
}

/** The largest distance between two rectangles' edges. */
export const worstEdge = (a: Edges, b: Edges): number =>
  Math.max(
    Math.abs(a.left - b.left),
    Math.abs(a.top - b.top),
    Math.abs(a.right - b.right),
    Math.abs(a.bottom - b.bottom),
  );
