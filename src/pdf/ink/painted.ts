import type { Ink, InkLine, PointBox } from '../../core/find/types.ts';
import type { Outlines } from './outlines.ts';
import { boxOf, isLong } from '../../core/find/rings.ts';
import { areaOf, type SubPath } from './path.ts';

/** Share of its box that a shape must fill to be a rectangle; rounded corners take a little. */
const FULL = 0.88;

type Ring = readonly number[];

/** A filled ring as a line, when it is thin and straight along the page's axes. */
export function thinLine(ring: Ring, light: number, box = boxOf([ring])): InkLine | null {
  if (!isLong(box)) return null;
  const width = box[2] - box[0];
  const height = box[3] - box[1];
  const thickness = Math.min(width, height);
  if (thickness > 0 && areaOf(ring) < FULL * width * height) return null;
  const isAcross = width > height;
  const x = (box[0] + box[2]) / 2;
  const y = (box[1] + box[3]) / 2;
  return {
    kind: 'line',
    x0: isAcross ? box[0] : x,
    y0: isAcross ? y : box[1],
    x1: isAcross ? box[2] : x,
    y1: isAcross ? y : box[3],
    thickness,
    light,
  };
}

const holds = (a: PointBox, b: PointBox) => a[0] <= b[0] && a[1] <= b[1] && a[2] >= b[2] && a[3] >= b[3];

const touch = (a: PointBox, b: PointBox) => a[0] <= b[2] && b[0] <= a[2] && a[1] <= b[3] && b[1] <= a[3];

/** Pieces of one sign are together at most this much longer than the longest of them. */
const SIGN = 1.6;

/**
 * Rings that lie inside another belong to it (holes), and so do the pieces of an upright sign that is drawn in
 * several: the strokes of a sharp, the stem and the bowl of a flat. Every other ring is a thing of its own.
 */
export function apart(rings: readonly Ring[]): Ring[][] {
  const boxes = rings.map((ring) => boxOf([ring]));
  const outer = rings.map((_, i) => {
    const inside = boxes.findIndex(
      (box, j) => j !== i && holds(box, boxes[i]!) && (j < i || !holds(boxes[i]!, box)),
    );
    return inside < 0;
  });
  const groups: number[][] = [];
  rings.forEach((_, i) => {
    if (!outer[i]) return;
    const met = groups.filter((group) => group.some((j) => touch(boxes[i]!, boxes[j]!)));
    const joined = [...met.flat(), i];
    if (met.length > 0 && isSign(joined.map((j) => rings[j]!))) {
      met.forEach((group) => groups.splice(groups.indexOf(group), 1));
      groups.push(joined);
    } else groups.push([i]);
  });
  return groups.map((group) =>
    group.flatMap((i) => [
      rings[i]!,
      ...rings.filter((_, j) => j !== i && !outer[j] && holds(boxes[i]!, boxes[j]!)),
    ]),
  );
}

/** Pieces of one width that lie over each other are beams of two notes, no flat: its stem is narrower. */
const AS_WIDE = 0.06;

function isSign(rings: readonly Ring[]): boolean {
  const [x0, y0, x1, y1] = boxOf(rings);
  const ends = rings.map((ring) => boxOf([ring]));
  const slack = AS_WIDE * (x1 - x0);
  const areBeams = ends.every((box) => Math.abs(box[0] - x0) <= slack && Math.abs(box[2] - x1) <= slack);
  if (rings.length === 2 && areBeams && rings.every((ring) => ring.length <= 12)) return false;
  return x1 - x0 <= y1 - y0 && y1 - y0 <= SIGN * Math.max(...rings.map(sizeOf));
}

/** A ring this small beside a line is a dot of a repeat, not a part of a clef. */
const DOT = 0.2;

/**
 * The lines and the rest of a path's rings. A clef may have straight parts: where lines stand together with
 * anything larger than a dot in a place no wider than they are long, they are parts of one shape.
 */
export function linesIn(rings: readonly Ring[], light: number): { lines: InkLine[]; rest: Ring[] } {
  const found = rings.map((ring) => ({ ring, line: thinLine(ring, light) }));
  const lines = found.flatMap(({ line }) => (line === null ? [] : [line]));
  const rest = found.flatMap(({ ring, line }) => (line === null ? [ring] : []));
  if (lines.length === 0 || rest.length === 0) return { lines, rest };
  const longest = Math.max(...lines.map((line) => Math.hypot(line.x1 - line.x0, line.y1 - line.y0)));
  const [x0, y0, x1, y1] = boxOf(rings);
  const isSmall = x1 - x0 <= longest && y1 - y0 <= 1.5 * longest;
  const isClef = isSmall && rest.some((ring) => sizeOf(ring) > DOT * longest);
  return isClef ? { lines: [], rest: [...rings] } : { lines, rest };
}

/** Rings beside lines are so small that they are the dots of a repeat. */
export function areDots(rest: readonly Ring[], lines: readonly InkLine[]): boolean {
  const longest = Math.max(...lines.map((line) => Math.hypot(line.x1 - line.x0, line.y1 - line.y0)));
  return rest.every((ring) => sizeOf(ring) <= DOT * longest);
}

function sizeOf(ring: Ring): number {
  const [x0, y0, x1, y1] = boxOf([ring]);
  return Math.max(x1 - x0, y1 - y0);
}

/** Rings as shapes, each with its holes. One that is a point, as fonts leave behind, shows nothing. */
export function shapesOf(rings: readonly Ring[], outlines: Outlines, light: number): Ink[] {
  return apart(rings.filter((ring) => sizeOf(ring) > 0)).map((group) => ({
    kind: 'shape',
    box: boxOf(group),
    filled: true,
    outline: outlines.nameOf(group),
    rings: group,
    light,
  }));
}

/** What filling a path leaves on the page. */
export function filled(paths: readonly SubPath[], outlines: Outlines, light: number): Ink[] {
  const rings = paths.map(({ points }) => points).filter((points) => points.length >= 6);
  const { lines, rest } = linesIn(rings, light);
  return [...lines, ...shapesOf(rest, outlines, light)];
}

/** What stroking a path with a pen leaves: a line for every straight piece, a shape for a bent or closed one. */
export function stroked(
  paths: readonly SubPath[],
  thickness: number,
  outlines: Outlines,
  light: number,
): Ink[] {
  return paths.flatMap(({ points, closed, curved }): Ink[] => {
    const isRing = points.length >= 6 && (closed || curved);
    if (isRing) {
      // The pen around a thin box draws one line, a little thicker than the box.
      const box = boxOf([points]);
      const line = thinLine(points, light, box);
      if (line) return [{ ...line, thickness: line.thickness + thickness }];
      const outline = outlines.nameOf([points]);
      return [{ kind: 'shape', box, filled: false, outline, rings: [points], light }];
    }
    const found: Ink[] = [];
    for (let i = 0; i + 3 < points.length; i += 2) {
      const x0 = points[i]!;
      const y0 = points[i + 1]!;
      const x1 = points[i + 2]!;
      const y1 = points[i + 3]!;
      found.push(
        x0 <= x1
          ? { kind: 'line', x0, y0, x1, y1, thickness, light }
          : { kind: 'line', x0: x1, y0: y1, x1: x0, y1: y0, thickness, light },
      );
    }
    return found;
  });
}
