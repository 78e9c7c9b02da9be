import { onStaff, staffAt, type BarParts } from '../bars/bars.ts';
import type { BarContent, ContentItem, PointBox, StaffParts } from '../types.ts';
import type { ChordLetter } from './chords.ts';
import { curveOver, isCurve } from './curves.ts';
import type { SystemKey } from './keys.ts';
import { musicOf, type Music } from './music.ts';
import { countsIn } from './reading.ts';
import { flagOf, hasVoices, isBeam, isLevelBeam, stemAt, stemsOf, type Stem } from './stems.ts';
import type { Sign } from './things.ts';
import { isInStaff, isPlayed, middleX, middleY, type SystemInk } from './written.ts';

/** How far heights of leaning beams, of stems' far ends and of slurs may differ in the same music. */
const BEAM = 0.9;
const CURVE = 1.6;
const ANY_HEIGHT = 99;
/** A bar whose edges are in more doubt than this is compared with none. */
const SURE_ENOUGH = 0.85;

/** What stands in each bar of a system, for telling twins. */
export function contentsOf(system: SystemInk, { key, signs: header }: SystemKey): (BarContent | null)[] {
  const music = musicOf(system, header);
  return system.bars.map((bar) =>
    key === null || bar.sure < SURE_ENOUGH ? null : contentOf(system, bar, music, key),
  );
}

/** A thing of a bar as it is drawn, by which it is told from others, and as it counts. */
interface Written {
  readonly drawn: ContentItem;
  readonly counts: ContentItem;
}

const plain = (item: ContentItem): Written => ({ drawn: item, counts: item });

function contentOf(system: SystemInk, bar: BarParts, music: Music, key: string): BarContent {
  const here = musicIn(system, bar, music);
  const written = [
    ...signsIn(here, system),
    ...stemsIn(here),
    ...beamsIn(here, system),
    ...countsOfRests(here, system),
    ...chordsIn(here, music.letters),
  ];
  return {
    items: once(written).map(({ counts }) => counts),
    key,
    over: edgesUnderCurves(here),
    width: (bar.x1 - bar.x0) / here.space,
    ...(bar.edges && { apart: true as const }),
  };
}

/** What stands in one bar, and where in it. */
interface BarMusic {
  readonly bar: BarParts;
  readonly staves: readonly StaffParts[];
  readonly space: number;
  /** The bar on the staff that something at this height belongs to. */
  readonly barAt: (y: number) => BarParts;
  readonly isHere: (x: number, y: number) => boolean;
  /** Something with its place within the bar, in spaces. */
  readonly item: (name: string, box: PointBox, slack: number) => ContentItem;
  /** Those that reach into the bar: curves over its edges, too. */
  readonly signs: readonly Sign[];
  readonly heads: readonly Sign[];
  readonly stems: readonly Stem[];
  /** For each staff, whether two voices stand on it. */
  readonly voices: readonly boolean[];
}

function musicIn({ staves }: SystemInk, bar: BarParts, music: Music): BarMusic {
  const { space } = staves[0]!;
  const ends = bar.edges?.flat() ?? [bar.x0, bar.x1];
  const [left, right] = [Math.min(...ends), Math.max(...ends)];
  const signs = music.signs.filter(({ ink: { box } }) => box[2] >= left && box[0] <= right);
  const barAt = (y: number) => onStaff(bar, staffAt(staves, y));
  const isHere = (x: number, y: number) => x > barAt(y).x0 && x < barAt(y).x1;
  const item = (name: string, box: PointBox, slack: number): ContentItem => {
    const staff = staffAt(staves, (box[1] + box[3]) / 2);
    const top = staves[staff]!.lines[0]!;
    const { x0 } = onStaff(bar, staff);
    const x = (value: number) => (value - x0) / space;
    const y = (value: number) => (value - top) / space;
    return { name, staff, x0: x(box[0]), x1: x(box[2]), y0: y(box[1]), y1: y(box[3]), slack };
  };
  const heads = signs.filter((sign) => sign.kind === 'head' && isHere(middleX(sign), middleY(sign)));
  const uprights = music.uprights.filter(({ at, from, to }) => {
    const own = barAt((from + to) / 2);
    return at > own.x0 + 0.45 * space && at < own.x1 - 0.45 * space;
  });
  const stems = stemsOf(uprights, heads, space);
  const voices = staves.map((_, staff) => hasVoices(stems, staves, staff));
  return { bar, staves, space, barAt, isHere, item, signs, heads, stems, voices };
}

/** A beam or flag counts where its stem's head is, at any height; where it is drawn when its way tells a voice. */
function hung(here: BarMusic, name: string, box: PointBox, slack: number, look = name): Written {
  const stem = stemAt(box, here.stems, here.space);
  const drawn = here.item(look, box, slack);
  if (stem === undefined || here.voices[staffAt(here.staves, stem.box[1])]!) return plain(drawn);
  const x = box[0] + stem.box[0] - stem.at;
  return { drawn, counts: here.item(name, [x, stem.box[1], x, stem.box[1]], ANY_HEIGHT) };
}

/** Signs, with beams and flags that are drawn as such; curves that stay within the bar. */
function signsIn(here: BarMusic, system: SystemInk): Written[] {
  const { staves, space, signs, stems, barAt, isHere, item } = here;
  const played = signs.filter((sign) => isPlayed(sign) && isHere(middleX(sign), middleY(sign)));
  /** A rest of a whole bar is set to its middle. */
  const isAlone = (sign: Sign) =>
    (sign.kind === 'rest' || sign.kind === 'multi-rest') &&
    played.every(
      (other) => other === sign || staffAt(staves, middleY(other)) !== staffAt(staves, middleY(sign)),
    );
  return signs.flatMap((sign): Written[] => {
    const { box } = sign.ink;
    if (isCurve(sign, space)) {
      const isWithin = isAtBar(here, sign) && !sidesUnder(here, sign).includes(true);
      return isWithin ? [plain(item('curve', box, CURVE))] : [];
    }
    const own = barAt(middleY(sign));
    if (!isHere(middleX(sign), middleY(sign)) || isBesideMusic(sign, own, system, space)) return [];
    const slack = isNear(sign, system) ? 0 : CURVE;
    if (isBeam(sign, space) || isLevelBeam(sign, stems, space)) return [hung(here, 'beam', box, BEAM)];
    if (sign.ink.kind === 'shape' && !sign.ink.filled) return [];
    const { outline } = sign.ink;
    if (flagOf(sign.name) !== '') return [hung(here, flagOf(sign.name), box, slack, outline)];
    return [plain({ ...item(outline, box, slack), ...(isAlone(sign) && { anywhere: true as const }) })];
  });
}

const isAtBar = ({ barAt }: BarMusic, curve: Sign) => {
  const { x0, x1 } = barAt(middleY(curve));
  return curve.ink.box[2] >= x0 && curve.ink.box[0] <= x1;
};

const sidesUnder = ({ barAt, heads, space }: BarMusic, curve: Sign) =>
  curveOver(curve.ink.box, barAt(middleY(curve)), heads, space);

/** Which edges of the bar a tie or slur goes over. */
function edgesUnderCurves(here: BarMusic): [left: boolean, right: boolean] {
  const sides = here.signs
    .filter((sign) => isCurve(sign, here.space) && isAtBar(here, sign))
    .map((curve) => sidesUnder(here, curve));
  return [sides.some(([left]) => left), sides.some(([, right]) => right)];
}

function stemsIn({ stems, voices, staves, item }: BarMusic): Written[] {
  return stems.map(({ at, from, to, box }) => {
    const isDrawn = voices[staffAt(staves, box[1])]!;
    return plain(item('stem', isDrawn ? [at, from, at, to] : box, BEAM));
  });
}

/** Beams that are thick level lines. */
function beamsIn(here: BarMusic, { lines, reach: [top, bottom] }: SystemInk): Written[] {
  const { bar, space, isHere } = here;
  return lines.across
    .filter(
      ({ at, from, to, thickness }) =>
        isHere((from + to) / 2, at) &&
        at > top &&
        at < bottom &&
        thickness > 0.3 * space &&
        to - from < bar.x1 - bar.x0,
    )
    .map(({ at, from, to }) => hung(here, 'beam', [from, at, to, at], BEAM));
}

/** The numbers over block rests. */
const countsOfRests = ({ bar, item }: BarMusic, system: SystemInk): Written[] =>
  countsIn(system, bar).map(({ letters, box }) => {
    const looks = letters.map(({ look }) => look).join(' ');
    return plain({ ...item(`count ${looks}`, box, ANY_HEIGHT), anywhere: true });
  });

const chordsIn = ({ isHere, item }: BarMusic, letters: readonly ChordLetter[]): Written[] =>
  letters
    .filter(({ start, box }) => isHere(start, box[3]))
    .map(({ name, box }) => plain(item(name, box, ANY_HEIGHT)));

/** A beam or slur that is filled and stroked counts once. */
function once(written: readonly Written[]): Written[] {
  const close = (a: number, b: number) => Math.abs(a - b) < 0.3;
  const isSame = (a: ContentItem, b: ContentItem) =>
    a.name === b.name && close(a.x0, b.x0) && close(a.x1, b.x1) && close(a.y0, b.y0) && close(a.y1, b.y1);
  return written.filter(({ drawn }, i) => !written.some((other, j) => j < i && isSame(other.drawn, drawn)));
}

/** Repeat dots, a meter, signs of the form and bar numbers are no music. */
function isBesideMusic(sign: Sign, bar: BarParts, { staves, formSigns }: SystemInk, space: number): boolean {
  if (/segno|coda/i.test(sign.name)) return true;
  if (sign.kind === 'other' && formSigns.some(({ ink }) => isPieceOf(sign.ink.box, ink.box))) return true;
  const inStaff = isInStaff(sign, staves);
  if (sign.kind === 'time') return inStaff || sign.ink.kind === 'glyph';
  if (!inStaff) return false;
  const [x0, , x1] = sign.ink.box;
  const isSmall = x1 - x0 < 0.75 * space;
  const nearEdge = Math.min(middleX(sign) - bar.x0, bar.x1 - middleX(sign)) < 2.2 * space;
  const repeats = bar.left.startsWith('repeat') || bar.right.startsWith('repeat');
  const { lines } = staves[staffAt(staves, middleY(sign))]!;
  const off = Math.abs(Math.abs(middleY(sign) - (lines[0]! + lines.at(-1)!) / 2) - 0.5 * space);
  return repeats && isSmall && nearEdge && off < 0.15 * space;
}

/** Dots and strokes of a segno stand beside its S, at most so many of its heights off. */
const PIECE = 0.5;

function isPieceOf(box: PointBox, [x0, y0, x1, y1]: PointBox): boolean {
  const off = PIECE * (y1 - y0);
  return box[0] >= x0 - off && box[2] <= x1 + off && box[1] >= y0 - 0.1 * off && box[3] <= y1 + 0.1 * off;
}

/** Notes and what belongs to them; what stands further off is set at any height. */
function isNear(sign: Sign, { staves }: SystemInk): boolean {
  if (sign.kind === 'head' || sign.kind === 'rest' || sign.kind === 'accidental') return true;
  const { lines, space } = staves[staffAt(staves, middleY(sign))]!;
  const y = middleY(sign);
  return y > lines[0]! - 3 * space && y < lines.at(-1)! + 3 * space;
}
