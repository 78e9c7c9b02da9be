/** Segno and coda that are drawn in several pieces, without a font that has them. */
import type { Ink, InkGlyph, InkLine, InkShape, PointBox } from '../types.ts';
import type { Sign } from './things.ts';

/** Height of such a sign in staff spaces. */
const SMALLEST = 1.3;
const LARGEST = 5;

type Round = InkShape | InkGlyph;

const middleOf = ([x0, y0, x1, y1]: PointBox): [number, number] => [(x0 + x1) / 2, (y0 + y1) / 2];
const centreOf = ({ x0, y0, x1, y1 }: InkLine): [number, number] => [(x0 + x1) / 2, (y0 + y1) / 2];
const near = ([ax, ay]: readonly number[], [bx, by]: readonly number[], gap: number) =>
  Math.abs(ax! - bx!) <= gap && Math.abs(ay! - by!) <= gap;
const isOutline = (ink: Ink): ink is Round => ink.kind === 'shape' || ink.kind === 'glyph';
const isSize = (length: number, space: number) => length >= SMALLEST * space && length <= LARGEST * space;

/** All such signs on a page. */
export function composedSigns(ink: readonly Ink[], space: number): Sign[] {
  const lines = ink
    .filter((one): one is InkLine => one.kind === 'line')
    .filter(({ x0, y0, x1, y1 }) => isSize(Math.hypot(x1 - x0, y1 - y0), space));
  const outlines = ink.filter(isOutline);
  const named =
    (name: string) =>
    (found: Round): Sign => ({ ink: found, name, kind: 'other' });
  return [
    ...segnos(lines, outlines, space).map(named('segno')),
    ...codas(lines, outlines).map(named('coda')),
  ];
}

/** An S, a stroke that leans across it, and a dot at each side. */
function segnos(lines: readonly InkLine[], outlines: readonly Round[], space: number): Round[] {
  const leaning = lines.filter(({ x0, y0, x1, y1 }) => {
    const [wide, high] = [Math.abs(x1 - x0), Math.abs(y1 - y0)];
    return wide > 0.35 * high && high > 0.35 * wide;
  });
  if (leaning.length === 0) return [];
  const dots = outlines.filter(({ box: [x0, y0, x1, y1] }) => {
    const [wide, high] = [x1 - x0, y1 - y0];
    return Math.abs(wide - high) < 0.15 * space && wide > 0.15 * space && wide < 0.8 * space;
  });
  return outlines.filter((one) => {
    const [wide, high] = [one.box[2] - one.box[0], one.box[3] - one.box[1]];
    if (!isSize(high, space) || wide > 0.95 * high || wide < 0.35 * high) return false;
    const centre = middleOf(one.box);
    const stroke = leaning.find((line) => near(centreOf(line), centre, 0.15 * high));
    if (stroke === undefined) return false;
    const beside = dots.filter(({ box }) => near(middleOf(box), centre, 0.8 * high));
    const [left, right] = [-1, 1].map((side) =>
      beside.some(({ box }) => side * (middleOf(box)[0] - centre[0]) > 0.3 * wide),
    );
    return left === true && right === true;
  });
}

/** A ring, or a letter O, with a level and an upright stroke that cross in its middle and stand out of it. */
function codas(lines: readonly InkLine[], outlines: readonly Round[]): Round[] {
  const level = lines.filter(({ x0, y0, x1, y1 }) => Math.abs(y1 - y0) < 0.02 * Math.abs(x1 - x0));
  const upright = lines
    .filter(({ x0, y0, x1, y1 }) => Math.abs(x1 - x0) < 0.02 * Math.abs(y1 - y0))
    .map((line) => ({ line, middle: centreOf(line), high: Math.abs(line.y1 - line.y0) }));
  return level.flatMap((across) => {
    const wide = Math.abs(across.x1 - across.x0);
    const centre = centreOf(across);
    const down = upright.find(
      ({ middle, high }) => near(middle, centre, 0.12 * wide) && high > 0.6 * wide && high < 1.8 * wide,
    )?.line;
    if (down === undefined) return [];
    const high = Math.abs(down.y1 - down.y0);
    return outlines
      .filter(({ box }) => {
        const inside = box[2] - box[0] < wide && box[3] - box[1] < 1.05 * high;
        return inside && box[2] - box[0] > 0.35 * wide && near(middleOf(box), centre, 0.15 * wide);
      })
      .slice(0, 1);
  });
}
