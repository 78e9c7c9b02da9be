import { joinedTo } from './joined.ts';

/**
 * What of a picture is another line's: ink over or under a line's own rows that is not joined to what stands in them.
 * @param isInk of a px, by its number row by row
 * @param from first of the line's own rows; before the first row of the picture all are
 * @param to first row that is none; behind the last all are
 * @returns px, row by row
 */
export function foreignIn(
  isInk: (at: number) => boolean,
  width: number,
  height: number,
  from: number,
  to: number,
): number[] {
  const columns = { from: 0, to: width };
  const over = { from: 0, to: Math.min(height, Math.max(0, Math.round(from))) };
  const under = { from: Math.max(0, Math.min(height, Math.round(to))), to: height };
  const found: number[] = [];
  const seen = new Set<number>();
  for (const rows of [over, under])
    for (let at = rows.from * width; at < rows.to * width; at++) {
      if (seen.has(at) || !isInk(at)) continue;
      const { places } = joinedTo(at, isInk, width, columns, rows, seen);
      const isJoined = places.some((place) => {
        const y = Math.floor(place / width);
        if (rows === over ? y < over.to - 1 : y > under.from) return false;
        const next = y + (rows === over ? 1 : -1);
        const x = place % width;
        const near = [x - 1, x, x + 1].filter((column) => column >= 0 && column < width);
        return next >= 0 && next < height && near.some((column) => isInk(next * width + column));
      });
      if (!isJoined) found.push(...places);
    }
  return found;
}
