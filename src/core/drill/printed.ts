import type { PageBox } from '../chart/types.ts';

/** A row or column of which more is dark is the shadow at a scan's edge. */
const SHADOW = 0.6;
/** Fewer dark px in a row or column are dust. */
const DUST = 2;
/** Kept free around what is printed, share of the page's width. */
const AIR = 0.02;

/** First and last of rows or columns. */
type Range = readonly [first: number, last: number];

/**
 * Where a page is printed: the box around its ink, with a little air. The dark edges of a scan do not count.
 * @param dark whether a px is ink, row after row
 * @returns fractions of the page; all of it where nothing is printed
 */
export function printedBox(dark: readonly boolean[], width: number, height: number): PageBox {
  const rows = (across: Range, down: Range) => counts(down, across, (y, x) => dark[y * width + x]!);
  const columns = (across: Range, down: Range) => counts(across, down, (x, y) => dark[y * width + x]!);
  const page = { across: [0, width - 1], down: [0, height - 1] } as const;
  const across = lit(page.across, columns(page.across, page.down), height);
  const down = lit(page.down, rows(page.across, page.down), width);
  const [left, right] = inked(across, columns(across, down));
  const [top, bottom] = inked(down, rows(across, down));
  if (top > bottom || left > right) return [0, 0, 1, 1];
  const air = AIR * width;
  return [
    Math.max(0, (left - air) / width),
    Math.max(0, (top - air) / height),
    Math.min(1, (right + 1 + air) / width),
    Math.min(1, (bottom + 1 + air) / height),
  ];
}

/** How many px are dark in each of these lines. */
function counts([first, last]: Range, [from, to]: Range, isDark: (line: number, at: number) => boolean) {
  return Array.from({ length: last - first + 1 }, (_, i) => {
    let count = 0;
    for (let at = from; at <= to; at++) if (isDark(first + i, at)) count++;
    return count;
  });
}

/** What lies between the shadows at both ends; beside a shadow lies its half-dark rim. */
function lit([first, last]: Range, lines: readonly number[], length: number): Range {
  const isShadow = (count: number) => count > SHADOW * length;
  const before = lines.findIndex((count) => !isShadow(count));
  const after = [...lines].reverse().findIndex((count) => !isShadow(count));
  if (before < 0) return [first, first - 1];
  return [first + (before && before + 1), last - (after && after + 1)];
}

/** The first and the last line with ink. */
function inked([first]: Range, lines: readonly number[]): Range {
  const hasInk = (count: number) => count >= DUST;
  const from = lines.findIndex(hasInk);
  return from < 0 ? [first, first - 1] : [first + from, first + lines.findLastIndex(hasInk)];
}
