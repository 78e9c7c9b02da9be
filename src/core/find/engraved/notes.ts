/** Notes that a font has in one piece: head, stem and maybe flags. */
import { boxOf } from '../rings.ts';
import type { PointBox } from '../types.ts';
import { crossings, nameByLook } from './look.ts';

type Ring = readonly number[];

/** How wide and high such notes are, and how wide their heads, in spaces. */
const WIDE = [1, 3.2] as const;
const HIGH = [2.4, 5.6] as const;
const HEAD_WIDE = [0.95, 1.75] as const;
/** A head is as high as a space, or a little higher; what is wider beyond that than a stem is a flag. */
const HEAD = 1.04;
const HIGHER = 0.3;
const STEM_WIDE = 0.4;

export interface WholeNote {
  /** SMuFL's name of its head. */
  readonly name: string;
  /** Around its head. */
  readonly box: PointBox;
  /** In quarters; null where flags stand at its stem. */
  readonly length: number | null;
}

const isIn = (value: number, [least, most]: readonly [number, number]) => value >= least && value <= most;

/** A note in one outline; null for any other sign. `space` is the distance of staff lines. */
export function wholeNote(rings: readonly Ring[], around: PointBox, space: number): WholeNote | null {
  const [x0, y0, x1, y1] = around;
  if (!isIn((x1 - x0) / space, WIDE) || !isIn((y1 - y0) / space, HIGH)) return null;
  return (
    headAt(rings, y1 - HEAD * space, y1, around, space) ?? headAt(rings, y0, y0 + HEAD * space, around, space)
  );
}

/** The same with its head between two heights, at its lower or its upper end. */
function headAt(
  rings: readonly Ring[],
  from: number,
  to: number,
  [, y0, , y1]: PointBox,
  space: number,
): WholeNote | null {
  const span = widestAt(rings, (from + to) / 2);
  if (span === null || !isIn((span[1] - span[0]) / space, HEAD_WIDE)) return null;
  const edge = 0.1 * space;
  const part = within(rings, [span[0] - edge, from, span[1] + edge, to]);
  const box = boxOf(part);
  const beyond = HIGHER * space;
  const stem = boxOf(
    within(
      rings,
      from > y0 ? [-Infinity, y0, Infinity, from - beyond] : [-Infinity, to + beyond, Infinity, y1],
    ),
  );
  const isStem = stem[2] - stem[0] <= STEM_WIDE * space;
  const look = nameByLook(part, (box[2] - box[0]) / space, (box[3] - box[1]) / space);
  // Hollow heads differ from font to font.
  const name = look.startsWith('notehead') ? look : isStem && part.length > 1 ? 'noteheadHalf' : '';
  if (name === '') return null;
  return { name, box, length: isStem ? (name === 'noteheadBlack' ? 1 : 2) : null };
}

/** From where to where the widest part of an outline goes at a height, holes counted as ink. */
function widestAt(rings: readonly Ring[], y: number): readonly [number, number] | null {
  const spans = rings.flatMap((ring) => {
    const at = crossings([ring], y);
    return at.flatMap((x, i) => (i % 2 === 0 ? [[x, at[i + 1]!] as const] : []));
  });
  return spans.reduce<readonly [number, number] | null>(
    (a, b) => (a === null || b[1] - b[0] > a[1] - a[0] ? b : a),
    null,
  );
}

/** What of closed rings lies in a box. */
const within = (rings: readonly Ring[], [x0, y0, x1, y1]: PointBox): number[][] =>
  rings
    .map((ring) => cut(cut(cut(cut(ring, 0, x0, 1), 0, x1, -1), 1, y0, 1), 1, y1, -1))
    .filter(({ length }) => length >= 6);

/**
 * What of a ring lies beyond an edge (`side` 1) or before it (−1): Sutherland and Hodgman, 1974.
 * @param axis 0: the edge is upright; 1: it is level
 */
function cut(ring: Ring, axis: 0 | 1, at: number, side: 1 | -1): number[] {
  const found: number[] = [];
  for (let i = 0; i < ring.length; i += 2) {
    const j = (i + 2) % ring.length;
    const [here, next] = [ring[i + axis]! - at, ring[j + axis]! - at];
    if (side * here >= 0) found.push(ring[i]!, ring[i + 1]!);
    if (here * next < 0) {
      const share = here / (here - next);
      found.push(
        ring[i]! + share * (ring[j]! - ring[i]!),
        ring[i + 1]! + share * (ring[j + 1]! - ring[i + 1]!),
      );
    }
  }
  return found;
}
