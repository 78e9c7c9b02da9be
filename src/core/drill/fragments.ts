import { median } from '../median.ts';

/** Of a page that is pure white, a channel darker than this is ink, even the pale rim of a smoothed edge. */
const BARE = 250;
/** On any other paper, ink is darker than this far from paper to ink: noise and shadows are not. */
const FAR = 0.4;
/** There the pale rim of ink is at least so wide, px. */
const RIM = 2;
/** A scan set larger has a wider rim: what is darker than this share from paper to ink belongs to it. */
const PALE = 0.08;

/** The paper of a scan and the ink on it: 0 black to 1 white. */
export interface PaperAndInk {
  readonly paper: number;
  readonly ink: number;
}

type Place = readonly [x: number, y: number];

/** The eight places beside one, inside the picture. */
const around = ([x, y]: Place, width: number, height: number): Place[] =>
  [-1, 0, 1].flatMap((dy) =>
    [-1, 0, 1].flatMap((dx): Place[] => {
      const [nx, ny] = [x + dx, y + dy];
      return nx >= 0 && nx < width && ny >= 0 && ny < height ? [[nx, ny]] : [];
    }),
  );

/** How a cut was made, all in px. */
export interface Cutting {
  /** Ink at its upper or lower edge that reaches no further in belongs to something beyond. */
  readonly band: number;
  /** The same of its left and right edge. */
  readonly side?: number;
  /**
   * So much of the page around it is in the picture, too: of ink across an edge the larger part tells where it belongs.
   * What reaches as far in stays whole.
   */
  readonly around?: number;
}

/** How far a place is from an edge of the cut, 0 at it, negative beyond; the edge's own places. */
interface Edge {
  readonly depth: (place: Place) => number;
  readonly band: number;
  readonly places: readonly Place[];
  readonly isLower?: true;
}

/** Px, the outermost inside. */
interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

function boxAround(places: readonly Place[]): Box {
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const [x, y] of places) {
    [left, right] = [Math.min(left, x), Math.max(right, x)];
    [top, bottom] = [Math.min(top, y), Math.max(bottom, y)];
  }
  return { left, top, right, bottom };
}

/** What stands raised beside a letter of the next line reaches less far in than so many times what is looked at around. */
const RAISED = 1.6;

function edgesOf(width: number, height: number, { band, side = 0, around: out = 0 }: Cutting): Edge[] {
  const [right, bottom] = [width - out - 1, height - out - 1];
  const row = (y: number) => Array.from({ length: width - 2 * out }, (_, x): Place => [out + x, y]);
  const column = (x: number) => Array.from({ length: height - 2 * out }, (_, y): Place => [x, out + y]);
  const edges: Edge[] = [
    { depth: ([, y]) => y - out, band, places: row(out) },
    { depth: ([, y]) => bottom - y, band, places: row(bottom), isLower: true },
    { depth: ([x]) => x - out, band: side, places: column(out) },
    { depth: ([x]) => right - x, band: side, places: column(right) },
  ];
  return edges.filter((edge) => edge.band > 0);
}

/** Tells whether a px is ink, by its number row by row. */
export function inkIn(pixels: Uint8ClampedArray, scan: PaperAndInk | null): (at: number) => boolean {
  const bareFrom = scan ? 255 * (scan.paper - FAR * (scan.paper - scan.ink)) : BARE;
  return (at) =>
    pixels[4 * at]! < bareFrom || pixels[4 * at + 1]! < bareFrom || pixels[4 * at + 2]! < bareFrom;
}

/**
 * Clears what a cut has left of things that stand beyond it, a title's descenders, the line below, a bar number: ink
 * that touches an edge and reaches no further in than its band. Whatever reaches further stays whole.
 * @param pixels RGBA, changed in place
 * @param scan null for a page of pure white
 */
export function clearFragments(
  pixels: Uint8ClampedArray,
  width: number,
  height: number,
  cutting: Cutting,
  scan: PaperAndInk | null = null,
): void {
  const { band, around: out = 0 } = cutting;
  const isInk = inkIn(pixels, scan);
  // Of the cut's own first row.
  const bare = Array.from({ length: width }, (_, x) => out * width + x).filter((at) => !isInk(at));
  if (bare.length < width / 2) return;
  const rim = scan ? RIM : 0;
  const clear = (x: number, y: number) => {
    for (let ny = Math.max(0, y - rim); ny <= Math.min(height - 1, y + rim); ny++)
      for (let nx = Math.max(0, x - rim); nx <= Math.min(width - 1, x + rim); nx++)
        pixels.set(paper, 4 * (ny * width + nx));
  };
  const paleFrom = scan ? 255 * (scan.paper - PALE * (scan.paper - scan.ink)) : BARE;
  const isPale = (at: number) => pixels[4 * at]! < paleFrom && !isInk(at);
  const clean = bare.filter((at) => !isPale(at));
  const colours = (clean.length > 0 ? clean : bare).map((at) => pixels.slice(4 * at, 4 * at + 4));
  const paper = scan ? middleOf(colours) : [255, 255, 255, 255];
  /** The rim of ink: pale pixels joined to it, no further off than `band`. */
  const rimOf = (ink: readonly Place[]): Place[] => {
    const taken = new Set(ink.map(([x, y]) => y * width + x));
    const all: Place[] = [];
    let edge = ink;
    for (let off = 0; off < band && edge.length > 0; off++) {
      const next = edge
        .flatMap((place) => around(place, width, height))
        .filter(([x, y]) => {
          const at = y * width + x;
          if (taken.has(at) || !isPale(at)) return false;
          taken.add(at);
          return true;
        });
      all.push(...next);
      edge = next;
    }
    return all;
  };
  /** What is joined to a place; null where that goes on to a place that `leaves`, or to what stays. */
  const joined = (
    start: Place,
    seen: Set<number>,
    is: (at: number) => boolean,
    leaves: (place: Place) => boolean,
    stays?: (at: number) => boolean,
  ): Place[] | null => {
    const found: Place[] = [start];
    let whole = true;
    seen.add(start[1] * width + start[0]);
    for (const place of found)
      for (const next of around(place, width, height)) {
        const at = next[1] * width + next[0];
        if (stays?.(at)) whole = false;
        if (!is(at)) continue;
        if (leaves(next)) whole = false;
        else if (!seen.has(at)) {
          seen.add(at);
          found.push(next);
        }
      }
    return whole ? found : null;
  };
  /** What is joined to a place at an edge; null where it reaches further in than the band, or what stays. */
  const pieceAt = (
    start: Place,
    { depth, band: own }: Edge,
    seen: Set<number>,
    is: (at: number) => boolean,
    stays?: (at: number) => boolean,
  ) => {
    const found = joined(start, seen, is, (place) => depth(place) >= Math.max(own, out), stays);
    if (found === null) return null;
    let [deepest, farthest] = [0, 0];
    for (const place of found) {
      deepest = Math.max(deepest, depth(place));
      farthest = Math.min(farthest, depth(place));
    }
    const isBeyond = deepest < own || -farthest > deepest;
    return isBeyond ? found : null;
  };
  const gone: Box[] = [];
  const edges = edgesOf(width, height, cutting);
  for (const edge of edges) {
    const seen = new Set<number>();
    for (const place of edge.places) {
      const at = place[1] * width + place[0];
      if (seen.has(at) || !isInk(at)) continue;
      const ink = pieceAt(place, edge, seen, isInk) ?? [];
      for (const [nx, ny] of scan ? [...ink, ...rimOf(ink)] : ink) clear(nx, ny);
      if (edge.isLower && out > 0 && ink.length > 0) gone.push(boxAround(ink));
    }
  }
  // Beside a letter of the next line stands what is raised of its word, and no higher than its tallest letter: what ends
  // above that is of another row, the verse before.
  const highest = Math.min(...gone.map(({ top }) => top));
  const reachesIn = ([, y]: Place) => height - out - 1 - y >= RAISED * out;
  for (const box of gone) {
    const seen = new Set<number>();
    for (let y = Math.max(0, box.top - out); y < height - out; y++)
      for (let x = Math.max(0, box.left - out); x < Math.min(width, box.right + out); x++) {
        if (seen.has(y * width + x) || !isInk(y * width + x)) continue;
        const ink = joined([x, y], seen, isInk, reachesIn);
        if (ink === null || reachesIn([x, y])) continue;
        if (boxAround(ink).bottom < Math.max(highest, box.top - out / 2)) continue;
        for (const [nx, ny] of scan ? [...ink, ...rimOf(ink)] : ink) clear(nx, ny);
        gone.push(boxAround(ink));
      }
  }
  if (!scan) return;
  // What is pale by itself is the tip of something beyond; beside ink that stays it is its rim.
  for (const edge of edges) {
    const seen = new Set<number>();
    for (const place of edge.places) {
      const at = place[1] * width + place[0];
      if (seen.has(at) || !isPale(at)) continue;
      for (const [nx, ny] of pieceAt(place, edge, seen, isPale, isInk) ?? []) clear(nx, ny);
    }
  }
}

/** The middle of colours, channel by channel: what the paper looks like in spite of its noise. */
const middleOf = (colours: readonly Uint8ClampedArray[]): number[] =>
  [0, 1, 2, 3].map((channel) => median(colours.map((each) => each[channel]!)));
