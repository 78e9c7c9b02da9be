import type { PageBox } from '../../chart/types.ts';
import { barsOf, foundSystem } from '../bars/bars.ts';
import { uprightsInInk } from '../looks/ink.ts';
import { seenLines } from '../looks/seen.ts';
import type {
  FoundBar,
  FoundPage,
  FoundSign,
  Ink,
  InkLine,
  PageInk,
  SeenLine,
  StaffParts,
  SystemParts,
} from '../types.ts';
import { bracketsOf } from './brackets.ts';
import { contentsOf } from './content.ts';
import { keysOf } from './keys.ts';
import { quartersOf } from './lengths.ts';
import { ENDS } from '../chart/tunes.ts';
import { mostQuarters, timeOf } from './reading.ts';
import { signsOf } from './signs.ts';
import { tiesOf } from './ties.ts';
import { titleIn } from './title.ts';
import { stavesIn } from './staves.ts';
import { straights, type Straights } from './straight.ts';
import { bottomOf, systemsOf, topOf } from './systems.ts';
import { dotsOf, namedSigns, Names, signsAt, thingsOf } from './things.ts';
import { strokesOf, thickFrom } from './uprights.ts';
import { wordsOf, type Words } from './words.ts';
import { isPlayed, middleX, middleY, staffAt, type SystemInk } from './written.ts';

export { Names } from './things.ts';

/** Systems, bars and signs of an engraved page. A page without staves of five lines has none. */
export function findInInk(page: PageInk, index = 0, names = new Names()): FoundPage {
  const lines = straights(page.ink);
  const systems = systemsOf(stavesIn(lines.across), lines.upright);
  const words = systems.length === 0 ? [] : wordsOf(page.ink, lines);
  const read = systems
    .map((staves) => systemOf(staves, systems, lines, page, words, names))
    // Rules without a single sign of music are a table or empty paper.
    .filter(({ ink }) => ink.bars.length > 0 && ink.signs.length > 0);
  const keys = keysOf(read.map(({ ink }) => ink));
  const signs: FoundSign[] = [];
  let count = 0;
  const found = read.map(({ ink, parts }, s) => {
    const contents = contentsOf(ink, keys[s]!);
    const ties = tiesOf(ink);
    const title = titleSigns(words, read, s, page, index);
    // Where a line begins a tune only the whole file tells: what may be a pickup there is taken or left then.
    const mayBegin = s === 0 || title.length > 0;
    const system = foundSystem(parts, page, (bar, i) => ({
      ...timeOf(ink, bar, i === 0 ? ink.staves[0]!.x0 : bar.x0),
      ...(mayBegin && i === 0 ? pickupOf(ink) : {}),
      ...(ties[i] ? { tied: true as const } : {}),
      ...(ties[i - 1] ? { tiedIn: true as const } : {}),
      content: contents[i]!,
    }));
    signs.push(...title);
    signs.push(...pageSigns(ink, system.bars, count, page, index));
    count += system.bars.length;
    return { ...system, seen: seenIn(ink, parts, page.width) };
  });
  return { page: index, width: page.width, height: page.height, systems: found, signs, by: 'ink' };
}

const isUpright = (ink: Ink): ink is InkLine => ink.kind === 'line' && Math.abs(ink.x1 - ink.x0) < 0.5;

/** What every upright looked like, for learning from a correction. */
function seenIn({ staves, signs, lines, ink }: SystemInk, parts: SystemParts, width: number): SeenLine[] {
  const boxes = signs.map((sign) => ({ box: sign.ink.box, isHead: sign.kind === 'head' }));
  const uprights = uprightsInInk(staves, lines.upright, boxes, ink.filter(isUpright));
  return seenLines(parts, uprights, (x) => x / width);
}

/** The first bar of a tune is a pickup when its notes do not fill the meter. */
function pickupOf(ink: SystemInk): Partial<FoundBar> {
  const [first, second] = ink.bars;
  if (first === undefined || second === undefined) return {};
  const { meter } = timeOf(ink, first, ink.staves[0]!.x0);
  const full = meter === undefined ? null : (meter.beats * 4) / meter.value;
  const read = quartersOf(ink, first);
  // Where the second bar does not seem to fill the meter either, notes were misread.
  const filled = quartersOf(ink, second);
  if (read !== null && full !== null && (filled === null || filled === full))
    return read < full ? { pickup: true, pickupBeats: (read * meter!.value) / 4 } : {};
  const most = mostQuarters(ink, first);
  return most > 0 && most < (full ?? 3) && most < mostQuarters(ink, second) ? { pickup: true } : {};
}

function pageSigns(
  ink: SystemInk,
  bars: readonly FoundBar[],
  first: number,
  page: PageInk,
  index: number,
): FoundSign[] {
  const { width, height } = page;
  const fractions = ([x0, y0, x1, y1]: readonly [number, number, number, number]): PageBox => [
    x0 / width,
    y0 / height,
    x1 / width,
    y1 / height,
  ];
  const played = ink.signs
    .filter((sign) => isPlayed(sign) && staffAt(ink.staves, middleY(sign)) === 0)
    .sort((a, b) => middleX(a) - middleX(b));
  const places = ink.bars.map(({ x0, x1 }, i) => {
    const last = played.findLast((sign) => middleX(sign) > x0 && middleX(sign) < x1);
    return {
      index: first + i,
      x0,
      x1,
      ...(last && { last: [last.ink.box[0], middleX(last)] as const }),
    };
  });
  const said = signsOf(ink.words, ink.formSigns, places, ink.staves[0]!.space).map((sign): FoundSign => ({
    ...sign,
    page: index,
    box: fractions(sign.box),
  }));
  const told = bars.flatMap((bar, i): FoundSign[] => {
    const base = { page: index, box: bar.box, bar: first + i };
    return [
      ...(bar.meter ? [{ ...base, kind: 'meter' as const, meter: bar.meter, sure: 0.97 }] : []),
      ...(bar.restBars === undefined
        ? []
        : [{ ...base, kind: 'multi-rest' as const, count: bar.restBars, sure: 0.95 }]),
      ...(bar.endingStarts
        ? [{ ...base, kind: 'ending' as const, text: bar.ending!.join(', '), sure: 0.98 }]
        : []),
      ...(bar.pickup ? [{ ...base, kind: 'pickup' as const, sure: 0.9 }] : []),
    ];
  });
  return [...said, ...told];
}

/** A title stands over the page's first system, or over one that follows a tune's end. */
function titleSigns(
  words: readonly Words[],
  read: readonly Read[],
  s: number,
  { width, height }: PageInk,
  index: number,
): FoundSign[] {
  const before = read[s - 1]?.ink;
  if (before !== undefined && !ENDS.has(before.bars.at(-1)?.right ?? 'none')) return [];
  const { x0, x1, space, lines } = read[s]!.ink.staves[0]!;
  const ceiling = before === undefined ? 0 : bottomOf(before.staves.at(-1)!);
  const found = titleIn(words, { ceiling, top: lines[0]!, x0, x1, width, space });
  // Later pages have running heads, and words between systems may be anything: only what stands out counts.
  if (found === null || ((index > 0 || s > 0) && found.sure < 0.9)) return [];
  const [left, top, right, bottom] = found.box;
  const box: PageBox = [left / width, top / height, right / width, bottom / height];
  return [{ kind: 'title', page: index, box, text: found.text, sure: found.sure }];
}

interface Read {
  readonly ink: SystemInk;
  readonly parts: SystemParts;
}

function systemOf(
  staves: readonly StaffParts[],
  systems: readonly (readonly StaffParts[])[],
  lines: Straights,
  page: PageInk,
  allWords: readonly Words[],
  names: Names,
): Read {
  const { space } = staves[0]!;
  const [ceiling, floor] = surroundings(staves, systems, page.height);
  const signs = signsAt(staves, page.ink, ceiling, floor, names);
  const things = thingsOf(signs);
  const strokes = strokesOf(staves, lines.upright, things);
  const parts: SystemParts = {
    staves,
    strokes,
    thickFrom: thickFrom(strokes, staves[0]!),
    dots: dotsOf(signs, space),
    brackets: bracketsOf(staves, lines, page.ink, ceiling),
    things,
    sure: 0.998,
  };
  const words = allWords.filter(({ box }) => belongs(box, staves, ceiling, floor));
  const formSigns = namedSigns(page.ink, space, names).filter(({ ink }) => isOver(ink.box, staves, ceiling));
  return {
    parts,
    ink: { staves, signs, formSigns, words, pageWords: allWords, lines, ink: page.ink, bars: barsOf(parts) },
  };
}

/** Words under a staff are so many times closer to it than to the next. */
const CLOSER = 2.5;

/** Words over a system belong to it rather than to the one above, unless they hang close under that one. */
function belongs(
  box: readonly [number, number, number, number],
  staves: readonly StaffParts[],
  ceiling: number,
  floor: number,
): boolean {
  const { x0, x1, space } = staves[0]!;
  if (box[2] < x0 - 4 * space || box[0] > x1 + 8 * space) return false;
  const y = (box[1] + box[3]) / 2;
  const [top, bottom] = [topOf(staves[0]!), bottomOf(staves.at(-1)!)];
  if (y >= top && y <= bottom) return true;
  if (y < top)
    return y > ceiling && top - y < 14 * space && (ceiling === 0 || top - y < CLOSER * (y - ceiling));
  return y < floor && y - bottom < 8 * space && CLOSER * (y - bottom) <= floor - y;
}

/** Segno and coda stand over their system, however high. */
function isOver(
  box: readonly [number, number, number, number],
  staves: readonly StaffParts[],
  ceiling: number,
): boolean {
  const { x0, x1, space } = staves[0]!;
  const y = (box[1] + box[3]) / 2;
  const top = topOf(staves[0]!);
  return y < top && y > ceiling && top - y < 16 * space && box[2] > x0 - 2 * space && box[0] < x1 + 2 * space;
}

/** Bottom of the system above and top of the one below, where they share a stretch of the page's width. */
function surroundings(
  staves: readonly StaffParts[],
  systems: readonly (readonly StaffParts[])[],
  height: number,
): readonly [number, number] {
  let [ceiling, floor] = [0, height];
  const { x0, x1 } = staves[0]!;
  for (const other of systems) {
    const first = other[0]!;
    if (other === staves || first.x1 < x0 || first.x0 > x1) continue;
    const bottom = bottomOf(other.at(-1)!);
    if (bottom < topOf(staves[0]!)) ceiling = Math.max(ceiling, bottom);
    if (topOf(first) > bottomOf(staves.at(-1)!)) floor = Math.min(floor, topOf(first));
  }
  return [ceiling, floor];
}
