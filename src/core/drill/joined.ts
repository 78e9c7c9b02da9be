/** Columns or rows, px. */
export interface Range {
  readonly from: number;
  /** The first beyond. */
  readonly to: number;
}

/** Ink that hangs together, eight neighbours counted. */
export interface Joined {
  /** Its px, row by row. */
  readonly places: readonly number[];
  readonly x0: number;
  /** First column and row beyond it. */
  readonly x1: number;
  readonly y0: number;
  readonly y1: number;
}

/**
 * What is joined to a px of ink within some columns and rows.
 * @param width of the picture, px
 * @param seen px that have been met; those of this ink are added
 */
export function joinedTo(
  start: number,
  isInk: (at: number) => boolean,
  width: number,
  columns: Range,
  rows: Range,
  seen: Set<number>,
): Joined {
  const places = [start];
  seen.add(start);
  let [x0, x1, y0, y1] = [columns.to, columns.from, rows.to, rows.from];
  for (const place of places) {
    const [x, y] = [place % width, Math.floor(place / width)];
    [x0, x1, y0, y1] = [Math.min(x0, x), Math.max(x1, x + 1), Math.min(y0, y), Math.max(y1, y + 1)];
    for (let ny = Math.max(rows.from, y - 1); ny <= Math.min(rows.to - 1, y + 1); ny++)
      for (let nx = Math.max(columns.from, x - 1); nx <= Math.min(columns.to - 1, x + 1); nx++) {
        const at = ny * width + nx;
        if (seen.has(at) || !isInk(at)) continue;
        seen.add(at);
        places.push(at);
      }
  }
  return { places, x0, x1, y0, y1 };
}
