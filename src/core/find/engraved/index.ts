import type { PageBox } from '../../chart/types.ts';
import { barsOf, foundSystem, staffAt, type BarParts } from '../bars/bars.ts';
import { uprightsInInk } from '../looks/ink.ts';
import { seenLines } from '../looks/seen.ts';
import type {
  FoundBar,
  FoundPage,
  FoundSign,
  Ink,
  InkLine,
  PageInk,
  PointBox,
  SeenLine,
  StaffParts,
  SystemParts,
} from '../types.ts';
import { isLetter, isTable } from '../tables.ts';
import { mayBegin, TITLE_SURE } from '../tunes.ts';
import { aroundOf, belongs, isAround, isOver, linesAround, reachOf, type Around } from './around.ts';
import { withoutBarNumbers } from './bar-numbers.ts';
import { bracketsOf } from './brackets.ts';
import { contentsOf } from './content.ts';
import { sortedInk, type SortedInk } from './fonts.ts';
import { keysOf } from './keys.ts';
import { pickupOf } from './pickup.ts';
import { timeOf } from './reading.ts';
import { footOf, signsOf } from './signs.ts';
import { tiesOf } from './ties.ts';
import { titleIn } from './title.ts';
import { isOneLine, isRhythm, oneLineStaves } from './one-line.ts';
import { stavesIn } from './staves.ts';
import { straights, type Straights } from './straight.ts';
import { bottomOf, systemsOf, topOf } from './systems.ts';
import { dotsOf, namedSigns, Names, signsAt, thingsOf, type Sign } from './things.ts';
import { strokesOf, thickFrom } from './uprights.ts';
import { wordsOf, type Words } from './words.ts';
import { isPlayed, middleX, middleY, type SystemInk } from './written.ts';

export { Names } from './things.ts';

/** Systems, bars and signs of an engraved page. A page without staves of five lines, or one, has none. */
export function findInInk(page: PageInk, index = 0, names = new Names()): FoundPage {
  const lines = straights(page.ink);
  const five = stavesIn(lines.across);
  const staves = [...five, ...oneLineStaves(lines.across, lines.upright, five)].sort(
    (a, b) => a.lines[0]! - b.lines[0]! || a.x0 - b.x0,
  );
  const systems = systemsOf(staves, lines.upright);
  const ink = sortedInk(systems.length === 0 ? [] : page.ink, systems.flat());
  const words = wordsOf(ink, lines);
  const bottoms = systems.map((staves) => bottomOf(staves.at(-1)!));
  const feet = new Map(words.map((one) => [one, footOf(one, words, bottoms)]));
  const formSigns = bySpace((space) => namedSigns(ink, space, names));
  const read = systems
    .map((staves) => {
      const around = aroundOf(staves, systems, page);
      const near = linesAround(lines, around);
      return systemOf(staves, around, near, ink, feet, formSigns(staves[0]!.space), names);
    })
    // Rules without a single sign of music are a table or empty paper.
    .filter(({ ink }) => ink.bars.length > 0 && ink.signs.length > 0)
    .filter(({ ink: { staves, letters, signs } }) => {
      const music = signs.map(({ ink }) => ink);
      return !isTable(staves, letters.filter(isLetter), music);
    })
    .filter(({ ink }, _, all) => !isOneLine(ink.staves) || all.some((one) => isRhythm(one.ink)));
  const keys = keysOf(read.map(({ ink }) => ink));
  const signs: FoundSign[] = [];
  // Only how light they are is asked of them.
  const painted = page.ink.filter(isUpright);
  const uprights = painted.some(({ light }) => light > 0) ? painted : [];
  let count = 0;
  const firsts = new Set<number>();
  const found = read.map(({ ink, parts, around }, s) => {
    const coloured = uprights.filter(({ y0, y1 }) => isAround(Math.min(y0, y1), Math.max(y0, y1), around));
    const contents = contentsOf(ink, keys[s]!);
    const ties = tiesOf(ink);
    const title = mayBegin(read[s - 1]?.ink.bars.at(-1)?.right) ? titleOf(words, ink, around, page) : null;
    // Later pages have running heads, and words between systems may be anything: only what stands out counts.
    const isTitled = title !== null && ((s === 0 && index === 0) || title.sure >= TITLE_SURE);
    if (isTitled) signs.push({ ...title, page: index, bar: count });
    // Which lines begin a tune the whole file tells: a pickup that is none after all is left out then.
    const isFirst = s === 0 || isTitled;
    const more = (bar: BarParts, i: number): Partial<FoundBar> => ({
      ...timeOf(ink, bar, i === 0 ? ink.staves[0]!.x0 : bar.x0),
      ...(isFirst && i === 0 ? pickupOf(ink) : {}),
      ...(ties[i] ? { tied: true as const } : {}),
      ...(ties[i - 1] ? { tiedIn: true as const } : {}),
      content: contents[i]!,
    });
    const system = foundSystem(parts, ink.bars, page, more);
    signs.push(...pageSigns(ink, system.bars, count, page, index));
    firsts.add(count);
    count += system.bars.length;
    return { ...system, seen: seenIn(ink, parts, coloured, page.width) };
  });
  const said = withoutBarNumbers(signs, firsts);
  return { page: index, width: page.width, height: page.height, systems: found, signs: said, by: 'ink' };
}

const isUpright = (ink: Ink): ink is InkLine => ink.kind === 'line' && Math.abs(ink.x1 - ink.x0) < 0.5;

/** What is the same for every staff of a size, up to a hundredth of a point: of most pages it is read once. */
function bySpace<T>(of: (space: number) => T): (space: number) => T {
  const known = new Map<string, T>();
  return (space) => {
    const size = space.toFixed(2);
    const held = known.get(size) ?? of(space);
    known.set(size, held);
    return held;
  };
}

/** What every upright looked like, for learning from a correction; `painted` are those around it. */
function seenIn(
  { staves, signs, lines }: SystemInk,
  parts: SystemParts,
  painted: readonly InkLine[],
  width: number,
): SeenLine[] {
  const heads = signs.filter(({ kind }) => kind === 'head').map((sign) => sign.ink.box);
  const uprights = uprightsInInk(staves, lines.upright, heads, painted);
  return seenLines(parts, uprights, (x) => x / width);
}

function pageSigns(
  ink: SystemInk,
  bars: readonly FoundBar[],
  first: number,
  page: PageInk,
  index: number,
): FoundSign[] {
  const played = ink.signs
    .filter((sign) => isPlayed(sign) && staffAt(ink.staves, middleY(sign)) === 0)
    .sort((a, b) => middleX(a) - middleX(b));
  const places = ink.bars.map(({ x0, x1, right }, i) => {
    const last = played.findLast((sign) => middleX(sign) > x0 && middleX(sign) < x1);
    const opening = played.find((sign) => middleX(sign) > x0 && middleX(sign) < x1);
    return {
      index: first + i,
      x0,
      x1,
      ends: mayBegin(right),
      ...(opening && { first: middleX(opening) }),
      ...(last && { last: [last.ink.box[0], middleX(last)] as const }),
    };
  });
  const said = signsOf(ink.words, ink.formSigns, places, ink.staves[0]!.space).map((sign): FoundSign => ({
    ...sign,
    page: index,
    box: fractionsOf(sign.box, page),
  }));
  const told = bars.flatMap((bar, i): FoundSign[] => {
    const base = { page: index, box: bar.box, bar: first + i };
    return [
      ...(bar.meter ? [{ ...base, kind: 'meter' as const, meter: bar.meter, sure: 0.97 }] : []),
      ...(bar.restBars === undefined
        ? []
        : [{ ...base, kind: 'multi-rest' as const, count: bar.restBars, sure: 0.95 }]),
      ...(bar.endingStarts && bar.ending!.length > 0
        ? [{ ...base, kind: 'ending' as const, text: bar.ending!.join(', '), sure: 0.98 }]
        : []),
      ...(bar.pickup ? [{ ...base, kind: 'pickup' as const, sure: 0.9 }] : []),
    ];
  });
  return [...said, ...told];
}

/** The title over a system, in fractions of the page. */
function titleOf(
  words: readonly Words[],
  { staves }: SystemInk,
  around: Around,
  page: PageInk,
): Pick<FoundSign, 'kind' | 'box' | 'text' | 'sure'> | null {
  const found = titleIn(words, staves[0]!, around, page.width);
  return found && { kind: 'title', box: fractionsOf(found.box, page), text: found.text, sure: found.sure };
}

const fractionsOf = ([x0, y0, x1, y1]: PointBox, { width, height }: PageInk): PageBox => [
  x0 / width,
  y0 / height,
  x1 / width,
  y1 / height,
];

interface Read {
  readonly ink: SystemInk;
  readonly parts: SystemParts;
  readonly around: Around;
}

function systemOf(
  staves: readonly StaffParts[],
  around: Around,
  lines: Straights,
  ink: SortedInk,
  feet: ReadonlyMap<Words, PointBox>,
  allFormSigns: readonly Sign[],
  names: Names,
): Read {
  const { space } = staves[0]!;
  const [top, bottom] = [topOf(staves[0]!) - space, bottomOf(staves.at(-1)!) + space];
  const reach = reachOf(staves, around);
  const nearby = signsAt(staves, ink.signs, [around.ceiling, around.floor], names);
  const signs = nearby.filter((sign) => middleY(sign) >= reach[0] && middleY(sign) <= reach[1]);
  const things = thingsOf(signs);
  const strokes = strokesOf(staves, lines.upright, things);
  const parts: SystemParts = {
    staves,
    strokes,
    thickFrom: thickFrom(strokes, staves[0]!),
    dots: dotsOf(signs, space),
    brackets: bracketsOf(staves, lines, ink, around.ceiling, strokes),
    things,
    sure: 0.998,
  };
  const allWords = [...feet.keys()];
  const words = allWords.filter((one) => belongs(feet.get(one)!, staves, around));
  const formSigns = allFormSigns.filter(({ ink }) => isOver(ink.box, staves, around));
  return {
    parts,
    around,
    ink: {
      staves,
      signs,
      nearby,
      formSigns,
      words,
      pageWords: allWords,
      lines,
      letters: ink.letters.filter(({ box }) => box[3] > top && box[1] < bottom),
      bars: barsOf(parts),
      reach,
    },
  };
}
