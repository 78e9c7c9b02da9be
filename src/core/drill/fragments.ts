import { median } from '../median.ts';

/** Of a page that is pure white, a channel darker than this is ink, even the pale rim of a smoothed edge. */
const BARE = 250;
/** On any other paper, ink is darker than this far from paper to ink: noise and shadows are not. */
const FAR = 0.4;
/** There the pale rim of ink is so wide, px. */
const RIM = 2;

/** The paper of a scan and the ink on it: 0 black to 1 white. */
export interface PaperAndInk {
  readonly paper: number;
  readonly ink: number;
}

/**
 * Clears what a cut has left of things that stand beyond it, a title's descenders or the line below: ink that
 * touches the upper or lower edge and reaches no further in than `band` rows. Whatever reaches further stays
 * whole.
 * @param pixels RGBA, changed in place
 * @param scan null for a page of pure white
 */
export function clearFragments(
  pixels: Uint8ClampedArray,
  width: number,
  height: number,
  band: number,
  scan: PaperAndInk | null = null,
): void {
  const bareFrom = scan ? 255 * (scan.paper - FAR * (scan.paper - scan.ink)) : BARE;
  const isInk = (at: number) =>
    pixels[4 * at]! < bareFrom || pixels[4 * at + 1]! < bareFrom || pixels[4 * at + 2]! < bareFrom;
  const bare = Array.from({ length: width }, (_, x) => x).filter((x) => !isInk(x));
  if (bare.length < width / 2) return;
  const paper = scan ? middleOf(bare.map((at) => pixels.slice(4 * at, 4 * at + 4))) : [255, 255, 255, 255];
  const rim = scan ? RIM : 0;
  const clear = (x: number, y: number) => {
    for (let ny = Math.max(0, y - rim); ny <= Math.min(height - 1, y + rim); ny++)
      for (let nx = Math.max(0, x - rim); nx <= Math.min(width - 1, x + rim); nx++)
        pixels.set(paper, 4 * (ny * width + nx));
  };
  const seen = new Set<number>();
  for (const down of [true, false]) {
    const row = (y: number) => (down ? y : height - 1 - y);
    for (let x = 0; x < width; x++) {
      const start = row(0) * width + x;
      if (seen.has(start) || !isInk(start)) continue;
      const found: [x: number, y: number][] = [[x, 0]];
      seen.add(start);
      let deep = false;
      for (const [fx, fy] of found)
        for (let dy = -1; dy <= 1; dy++)
          for (let dx = -1; dx <= 1; dx++) {
            const [nx, ny] = [fx + dx, fy + dy];
            if (nx < 0 || nx >= width || ny < 0 || ny >= height) continue;
            const at = row(ny) * width + nx;
            if (seen.has(at) || !isInk(at)) continue;
            if (ny >= band) deep = true;
            else {
              seen.add(at);
              found.push([nx, ny]);
            }
          }
      if (!deep) for (const [fx, fy] of found) clear(fx, row(fy));
    }
  }
}

/** The middle of colours, channel by channel: what the paper looks like in spite of its noise. */
const middleOf = (colours: readonly Uint8ClampedArray[]): number[] =>
  [0, 1, 2, 3].map((channel) => median(colours.map((each) => each[channel]!)));
