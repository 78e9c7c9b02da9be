/** Finds staves, systems and bars on a page of pixels. */
import { picturesOf } from '../alike/cut.ts';
import { barsOf, foundSystem } from '../bars/bars.ts';
import type { PageBox } from '../../chart/types.ts';
import { uprightsInPixels } from '../looks/pixels.ts';
import { seenLines } from '../looks/seen.ts';
import type { FoundPage, FoundSign, FoundStaff, FoundSystem, SystemParts } from '../types.ts';
import { mayBegin } from '../tunes.ts';
import { agreed, type Parts } from './agreed.ts';
import { barlinesOf, type Barline } from './barlines.ts';
import { bracketLinesOf } from './brackets.ts';
import { combsOf } from './comb.ts';
import { darknessOf, type Darkness } from './darkness.ts';
import { drawnAs } from './drawn.ts';
import { laneOf, type Lane } from './lanes.ts';
import { halved, type Picture } from './picture.ts';
import { bracketsOf, cornersOf } from './endings.ts';
import { lineProfiles, likeness, plainProfiles, slopeOf } from './profiles.ts';
import { meterAt } from './meter.ts';
import { inOrder } from './order.ts';
import { LAGS, spacesOf } from './spaces.ts';
import { wholeOf, type Tracked } from './pieces.ts';
import { isPickup } from './pickup.ts';
import { saidOf, type SaidSign } from './said.ts';
import { signsOver, type SeenSign } from './signs.ts';
import { beginLate } from './starts.ts';
import { calibrated } from './sure.ts';
import { straighten, wipeAbove, type Straight } from './straight.ts';
import { groupsOf, type Group } from './systems.ts';
import { UNIT } from './strip.ts';
import { thingsOf } from './things.ts';
import { tracksOf } from './tracks.ts';

export { greyOf, type Picture } from './picture.ts';

/** Longest side of a picture that is looked at as it is, pixels. */
const LARGEST = 2600;
/** Strips across the page for the first look. */
const STRIPS = 32;
/** A meter read with less is not said: the chart then has the usual one, which is seen at once. */
const METER_SURE = 0.95;
/** How sure the first bar of a system is, at most, whose start was not seen. */
const LATE_SURE = 0.85;
const MARGINS = { above: 10.5, below: 3, beside: 3 };

/** A system on the page with its parts, in the pixels of its straightened picture. */
export interface PixelSystem {
  readonly parts: SystemParts;
  readonly straight: Straight;
  readonly barlines: readonly Barline[];
  /** Places that may hold a bar line and were left out. */
  readonly doubts: readonly Barline[];
  /** Signs of the form over it. */
  readonly signs: readonly SeenSign[];
}

export interface PixelPage {
  /** The page's ink, and its size in pixels as it was looked at. */
  readonly width: number;
  readonly height: number;
  readonly systems: readonly PixelSystem[];
}

/** The systems of a page pulled straight, top to bottom; width and height of the page as it was looked at. */
export interface StraightPage {
  readonly width: number;
  readonly height: number;
  readonly systems: readonly Straight[];
}

/** Systems on a page drawn at 100–300 dpi. */
export function straightOf(picture: Picture): StraightPage {
  let small = picture;
  while (Math.max(small.width, small.height) > LARGEST) small = halved(small);
  const { width, height } = small;
  const page = darknessOf(small);
  if (!page) return { width, height, systems: [] };
  const lanes = lanesOf(page);
  const groups = groupsOf(page, lanes);
  return { width, height, systems: groups.map((group) => pulledStraight(page, group, lanes)) };
}

/** Systems and their parts. */
export function partsOf(picture: Picture): PixelPage {
  const { width, height, systems } = straightOf(picture);
  const found = systems.map(systemOf);
  const brackets = inOrder(found.map(({ parts }) => ({ bars: barsOf(parts), brackets: parts.brackets })));
  return {
    width,
    height,
    systems: found.map((one, i) => ({ ...one, parts: { ...one.parts, brackets: brackets[i]! } })),
  };
}

/** Staves of a page. */
export function lanesOf(page: Darkness): Lane[] {
  const plain = plainProfiles(page, Math.max(16, Math.round(page.width / STRIPS)));
  const lanes: Lane[] = [];
  const spaces = spacesOf(likeness(plain, Math.min(LAGS, page.height - 1)));
  if (spaces.length === 0) return [];
  const slope = slopeOf(plain);
  for (const space of spaces) {
    const strip = Math.max(16, Math.round(4 * space));
    const reach = Math.max(2, Math.round(0.35 * space));
    const combs = combsOf(lineProfiles(page, strip, reach, slope), space);
    const pieces = tracksOf(combs, slope * strip).flatMap((track): Tracked[] => {
      const lane = laneOf(page, track, strip, reach);
      return lane ? [{ lane, track }] : [];
    });
    for (const { lane } of wholeOf(pieces, page, strip, reach))
      if (!lanes.some((one) => overlap(one, lane))) lanes.push(lane);
  }
  return lanes;
}

function overlap(a: Lane, b: Lane): boolean {
  const [from, to] = [Math.max(a.x0, b.x0), Math.min(a.x1, b.x1)];
  if (from >= to) return false;
  const x = Math.round((from + to) / 2);
  return Math.abs(a.centre[x]! - b.centre[x]!) < 2 * (a.space + b.space);
}

function pulledStraight(page: Darkness, group: Group, lanes: readonly Lane[]): Straight {
  // Bar lines are square to the staves on a page that lies askew, and upright where the paper curls.
  const askew = -group.reduce((sum, { slope }) => sum + slope, 0) / group.length;
  const straight = straighten(page, group, UNIT, MARGINS, askew);
  wipeAbove(
    straight,
    lanes.filter((lane) => !group.includes(lane)),
  );
  return straight;
}

/** A system with its parts; the brackets over it are not settled yet. */
function systemOf(straight: Straight) {
  const { tops, ends } = straight;
  const { barlines, doubts } = barlinesOf(straight);
  const drawn = barlines.map((one) => drawnAs(one, UNIT, tops));
  const strokes = drawn.flatMap((one) => one.strokes);
  const staves = tops.map((top, k) => ({
    ...ends[k]!,
    lines: [0, 1, 2, 3, 4].map((line) => top + line * UNIT),
    space: UNIT,
    thickness: 0.12 * UNIT,
  }));
  const lines = bracketLinesOf(straight);
  const signs = signsOver(straight, cornersOf(lines, UNIT));
  return {
    straight,
    barlines,
    doubts,
    signs,
    parts: {
      staves,
      strokes,
      dots: drawn.flatMap((one) => one.dots),
      brackets: bracketsOf(straight, strokes, lines, signs),
      things: thingsOf(straight, barlines),
      sure: 1,
    },
  };
}

/**
 * The bars of a page of pixels.
 * @param index of the page, from 0
 * @param size of the page in points
 */
export function findPixels(
  picture: Picture,
  index: number,
  size: { readonly width: number; readonly height: number },
): FoundPage {
  const { width, height, systems } = partsOf(picture);
  // Five lines without a bar line anywhere are ruled paper, not bars left open.
  const isMusic = systems.some(({ parts }) => parts.strokes.length > 1);
  const meters: FoundSign[] = [];
  const seen: (FoundSign & Pick<SaidSign, 'letters'>)[] = [];
  let count = 0;
  const late = beginLate(systems.map(({ straight }) => straight));
  const found = (isMusic ? systems : [])
    .map(({ parts, straight, barlines, doubts, signs: written }, k) => {
      const said = meterAt(straight);
      const meter = said.sure >= METER_SURE ? said.meter : null;
      const bars = barsOf(parts);
      const { head, bars: pictures } = picturesOf(straight, bars, meter !== null);
      const pickup = isPickup(straight, bars, barlines, said);
      const found = foundSystem(parts, bars, { width: 1, height: 1 }, (bar, i) => ({
        sure: Math.min(
          calibrated(bar.sure * (1 - chanceInside(doubts, bar.x0, bar.x1))),
          bar.bracket?.sure ?? 1,
          late[k] && i === 0 ? LATE_SURE : 1,
        ),
        ...(meter && i === 0 ? { meter } : {}),
        ...(pickup && i === 0 ? { pickup } : {}),
        picture: pictures[i] ?? null,
      }));
      const uprights = uprightsInPixels(straight);
      const middle = straight.tops[0]! + 2 * straight.unit;
      const place = (u: number) => straight.toPage(u, middle)[0] / width;
      const system = {
        ...onPage(found, straight, width, height),
        head,
        seen: seenLines(parts, uprights, place),
      };
      const [first] = system.bars;
      if (meter && first)
        meters.push({ kind: 'meter', page: index, bar: count, box: first.box, meter, sure: said.sure });
      for (const { x0, y0, x1, y1, ...sign } of saidOf(written, bars, parts))
        seen.push({
          ...sign,
          page: index,
          bar: count + sign.bar,
          box: boxOnPage([x0, y0, x1, y1], straight, width, height),
        });
      count += system.bars.length;
      return system;
    })
    .filter(({ bars }) => bars.length > 0);
  const said = agreed(seen, partsIn(found)).map(({ letters: _, ...sign }): FoundSign => sign);
  const signs = [...meters, ...said].sort((a, b) => a.bar - b.bar);
  // Not the whole of `size`: it may be a page with all its ink.
  return { page: index, width: size.width, height: size.height, systems: found, signs, by: 'pixels' };
}

/** Where parts of a tune may begin and end, by the bar lines of a page. */
function partsIn(systems: readonly FoundSystem[]): Parts {
  const bars = systems.flatMap((system) => system.bars);
  const ends = (bar: number) => mayBegin(bars[bar]?.right);
  return { ends, begins: (bar) => bars[bar]?.left === 'repeat-start' || ends(bar - 1) };
}

/** The chance that a bar line which was left out parts the bar. */
const chanceInside = (doubts: readonly Barline[], x0: number, x1: number) =>
  1 - doubts.reduce((none, { x, chance }) => (x > x0 && x < x1 ? none * (1 - chance) : none), 1);

/** A system found in a straightened picture, in fractions of the page. */
function onPage(system: FoundSystem, straight: Straight, width: number, height: number): FoundSystem {
  const box = (flat: PageBox) => boxOnPage(flat, straight, width, height);
  const whole = box(system.box);
  const staves = system.staves.map((staff) => {
    const u = (staff.box[0] + staff.box[2]) / 2;
    return { box: box(staff.box), lines: staff.lines.map((v) => straight.toPage(u, v)[1] / height) };
  });
  const [u0, v, u1] = system.box;
  const falls = straight.toPage(u1, v)[1] - straight.toPage(u0, v)[1];
  return {
    ...system,
    box: whole,
    staves,
    ...askew(whole, staves, falls),
    bars: system.bars.map((bar) => ({ ...bar, box: box(bar.box) })),
  };
}

/** A line is said to lie askew from so many of its staves' heights on. */
const ASKEW = 0.05;

/** By how much the box around a line is higher than its staves are in the middle of it, and which way it leans. */
function askew(
  [, top, , bottom]: PageBox,
  staves: readonly FoundStaff[],
  falls: number,
): Pick<FoundSystem, 'lean'> {
  const high = staves.at(-1)!.lines.at(-1)! - staves[0]!.lines[0]!;
  const more = bottom - top - high;
  return more > ASKEW * high ? { lean: falls < 0 ? -more : more } : {};
}

/** The upright box around a box of a straightened picture: its edges are followed over curled paper. */
function boxOnPage([u0, v0, u1, v1]: PageBox, straight: Straight, width: number, height: number): PageBox {
  const xs: number[] = [];
  const ys: number[] = [];
  const EDGES = 8;
  for (let i = 0; i <= EDGES; i++)
    for (const v of [v0, v1]) {
      const [x, y] = straight.toPage(u0 + ((u1 - u0) * i) / EDGES, v);
      xs.push(x / width);
      ys.push(y / height);
    }
  const inside = (value: number) => Math.min(1, Math.max(0, value));
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)].map(
    inside,
  ) as unknown as PageBox;
}
