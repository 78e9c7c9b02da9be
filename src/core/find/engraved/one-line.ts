/** Staves of a single line, as drums and slashes are written on. */
import { median } from '../../median.ts';
import type { StaffParts } from '../types.ts';
import type { Straight } from './straight.ts';
import type { Sign } from './things.ts';
import { isPlayed, type SystemInk } from './written.ts';

/** Bar lines go as far over the line as under it: a space each way. In points. */
const LEAST_SPACE = 1.5;
const MOST_SPACE = 12;
/** Such a line is so many spaces long and at most this share of one thick. */
const SHORTEST = 20;
const THICKEST = 0.35;
/** How far the middle of a bar line may lie off its staff line and heights of bar lines differ, in spaces. */
const OFF = 0.12;
/** Bar lines stand so far apart, the last one so near to the end of the line; in spaces. */
const APART = 5;
const AT_END = 1.5;
/** In as many spaces over and under it lies no other line as long as a staff: that would be a table, a box or one. */
const ALONE = 2.5;

/**
 * Lines that uprights cross as bar lines cross a staff of one line. `lines` of such a staff are its line and both ends of
 * its bar lines: as high as they are its bars are. Whether it holds music, `isRhythm` tells.
 */
export function oneLineStaves(
  across: readonly Straight[],
  upright: readonly Straight[],
  staves: readonly StaffParts[],
): StaffParts[] {
  const least = SHORTEST * LEAST_SPACE;
  const long = across.filter(({ from, to }) => to - from >= least);
  return long.flatMap((line): StaffParts[] => {
    if (staves.some(({ lines }) => lines[0]! <= line.at && line.at <= lines.at(-1)!)) return [];
    const space = spaceOf(line, upright);
    if (space === null || line.to - line.from < SHORTEST * space || line.thickness > THICKEST * space)
      return [];
    const near = (y: number) => Math.abs(y - line.at) < ALONE * space;
    const isAtStaff = staves.some(({ lines }) => near(lines[0]!) || near(lines.at(-1)!));
    const isBeside = long.some(
      (other) =>
        other !== line &&
        near(other.at) &&
        other.to - other.from >= SHORTEST * space &&
        other.from < line.to &&
        other.to > line.from,
    );
    if (isAtStaff || isBeside) return [];
    const lines = [line.at - space, line.at, line.at + space];
    return [{ x0: line.from, x1: line.to, lines, space, thickness: line.thickness }];
  });
}

/** Half the height of what crosses the line like bar lines; null where nothing does. */
function spaceOf({ at, from, to }: Straight, upright: readonly Straight[]): number | null {
  const crossing = upright.filter((one) => {
    const half = (one.to - one.from) / 2;
    const isCrossed = Math.abs((one.from + one.to) / 2 - at) <= OFF * half;
    return (
      isCrossed && half >= LEAST_SPACE && half <= MOST_SPACE && one.at > from - half && one.at < to + half
    );
  });
  const last = crossing.filter((one) => to - one.at <= AT_END * ((one.to - one.from) / 2));
  if (last.length === 0) return null;
  const space = median(last.map((one) => (one.to - one.from) / 2));
  const alike = crossing.filter((one) => Math.abs((one.to - one.from) / 2 - space) <= OFF * space);
  const [first, end] = [Math.min(...alike.map((one) => one.at)), Math.max(...alike.map((one) => one.at))];
  return alike.length > 1 && end - first >= APART * space ? space : null;
}

/** A one-line system: no staff of it has five lines. */
export const isOneLine = (staves: readonly StaffParts[]) => staves.every(({ lines }) => lines.length < 5);

/** At least so many of its heads hang on stems or are letters of a font of music: an axis with spots on it is none. */
const HEADS = 3;
/** A stem ends so near to its head, in spaces: at the corner of a slash. */
const TOUCHES = 0.4;

/**
 * Notes stand on a system of one line, with the rests at least one to a bar. Slashes without stems may be none that are
 * known: where one system of a page is music, so are its others.
 */
export function isRhythm({ signs, staves, lines, bars }: SystemInk): boolean {
  if (!isOneLine(staves)) return false;
  const near = TOUCHES * staves[0]!.space;
  const played = signs.filter((sign) => isPlayed(sign) && sign.name !== '');
  const hangs = ({ ink: { box } }: Sign, { at, from, to }: Straight) =>
    Math.min(Math.abs(box[0] - at), Math.abs(box[2] - at)) < near &&
    to - from > 1.5 * staves[0]!.space &&
    [from, to].some((end) => end > box[1] - near && end < box[3] + near);
  const heads = played.filter(
    (sign) =>
      sign.kind === 'head' && (sign.ink.kind === 'glyph' || lines.upright.some((line) => hangs(sign, line))),
  );
  return heads.length >= HEADS && played.length >= bars.length;
}
