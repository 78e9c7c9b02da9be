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
  /** What is joined to a place at the edge; null where it reaches further in than the band, or what stays. */
  const pieceAt = (x: number, edge: number, is: (at: number) => boolean, stays?: (at: number) => boolean) => {
    const found: Place[] = [[x, edge]];
    let whole = true;
    seen.add(edge * width + x);
    for (const place of found)
      for (const [nx, ny] of around(place, width, height)) {
        const at = ny * width + nx;
        if (stays?.(at)) whole = false;
        if (!is(at)) continue;
        if (Math.abs(ny - edge) >= band) whole = false;
        else if (!seen.has(at)) {
          seen.add(at);
          found.push([nx, ny]);
        }
      }
    return whole ? found : null;
  };
  const seen = new Set<number>();
  const edges = [0, height - 1];
  const columns = Array.from({ length: width }, (_, x) => x);
  for (const edge of edges)
    for (const x of columns) {
      if (seen.has(edge * width + x) || !isInk(edge * width + x)) continue;
      const ink = pieceAt(x, edge, isInk) ?? [];
      for (const [nx, ny] of scan ? [...ink, ...rimOf(ink)] : ink) clear(nx, ny);
    }
  if (!scan) return;
  // What is pale by itself is the tip of something beyond; beside ink that stays it is its rim.
  for (const edge of edges)
    for (const x of columns) {
      if (seen.has(edge * width + x) || !isPale(edge * width + x)) continue;
      for (const [nx, ny] of pieceAt(x, edge, isPale, isInk) ?? []) clear(nx, ny);
    }
}

/** The middle of colours, channel by channel: what the paper looks like in spite of its noise. */
const middleOf = (colours: readonly Uint8ClampedArray[]): number[] =>
  [0, 1, 2, 3].map((channel) => median(colours.map((each) => each[channel]!)));
