/** A channel darker than this is ink, even the pale rim of a smoothed edge. */
const BARE = 250;

/**
 * Clears what a cut has left of things that stand beyond it, a title's descenders or the line below: ink that
 * touches the upper or lower edge and reaches no further in than `band` rows. Whatever reaches further stays
 * whole. Only on white paper; on any other nothing is done.
 * @param pixels RGBA, changed in place
 */
export function clearFragments(pixels: Uint8ClampedArray, width: number, height: number, band: number): void {
  const isInk = (at: number) =>
    pixels[4 * at]! < BARE || pixels[4 * at + 1]! < BARE || pixels[4 * at + 2]! < BARE;
  const bare = Array.from({ length: width }, (_, x) => x).filter((x) => !isInk(x)).length;
  if (bare < width / 2) return;
  const seen = new Set<number>();
  for (const down of [true, false]) {
    const row = (y: number) => (down ? y : height - 1 - y) * width;
    for (let x = 0; x < width; x++) {
      if (seen.has(row(0) + x) || !isInk(row(0) + x)) continue;
      const found: [x: number, y: number][] = [[x, 0]];
      seen.add(row(0) + x);
      let deep = false;
      for (const [fx, fy] of found)
        for (let dy = -1; dy <= 1; dy++)
          for (let dx = -1; dx <= 1; dx++) {
            const [nx, ny] = [fx + dx, fy + dy];
            if (nx < 0 || nx >= width || ny < 0 || ny >= height) continue;
            const at = row(ny) + nx;
            if (seen.has(at) || !isInk(at)) continue;
            if (ny >= band) deep = true;
            else {
              seen.add(at);
              found.push([nx, ny]);
            }
          }
      if (!deep) for (const [fx, fy] of found) pixels.fill(255, 4 * (row(fy) + fx), 4 * (row(fy) + fx) + 4);
    }
  }
}
