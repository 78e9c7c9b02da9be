/** Finds staves, systems and bars on a page of pixels. */
import { foundSystem, type BarParts } from '../bars/bars.ts';
import type { PageBox } from '../../chart/types.ts';
import { uprightsInPixels } from '../looks/pixels.ts';
import { seenLines } from '../looks/seen.ts';
import type { FoundPage, FoundSystem, SystemParts } from '../types.ts';
import { barlinesOf, type Doubt } from './barlines.ts';
import { bracketsOf } from './brackets.ts';
import { combsOf } from './comb.ts';
import { darknessOf } from './darkness.ts';
import { dotsOf } from './dots.ts';
import { laneOf, type Lane } from './lanes.ts';
import { halved, type Picture } from './picture.ts';
import { lineProfiles, likeness, plainProfiles, slopeOf } from './profiles.ts';
import { LAGS, spacesOf } from './spaces.ts';
import { leanOf, straighten, wipeAbove, type Straight } from './straight.ts';
import { groupsOf, type Group } from './systems.ts';
import { thingsOf } from './things.ts';
import { tracksOf } from './tracks.ts';

export { greyOf, type Picture } from './picture.ts';

/** Longest side of a picture that is looked at as it is, pixels. */
const LARGEST = 2600;
/** Strips across the page for the first look. */
const STRIPS = 32;
/** Pixels for a space in straightened systems. */
const UNIT = 12;
const MARGINS = { above: 10.5, below: 3, beside: 3 };

/** A system on the page with its parts, in the pixels of its straightened picture. */
export interface PixelSystem {
  readonly parts: SystemParts;
  readonly straight: Straight;
  /** Strokes that were left out. */
  readonly doubts: readonly Doubt[];
}

export interface PixelPage {
  /** The page's ink, and its size in pixels as it was looked at. */
  readonly width: number;
  readonly height: number;
  readonly systems: readonly PixelSystem[];
}

/** Systems and their parts on a page drawn at 100–300 dpi, top to bottom. */
export function partsOf(picture: Picture): PixelPage {
  let small = picture;
  while (Math.max(small.width, small.height) > LARGEST) small = halved(small);
  const { width, height } = small;
  const page = darknessOf(small);
  if (!page) return { width, height, systems: [] };
  const lanes = lanesOf(page);
  const groups = groupsOf(page, lanes);
  return { width, height, systems: groups.map((group) => systemOf(page, group, lanes)) };
}

/** Staves of a page. */
export function lanesOf(page: Picture): Lane[] {
  const plain = plainProfiles(page, Math.max(16, Math.round(page.width / STRIPS)));
  const lanes: Lane[] = [];
  const spaces = spacesOf(likeness(plain, Math.min(LAGS, page.height - 1)));
  if (spaces.length === 0) return [];
  const slope = slopeOf(plain);
  for (const space of spaces) {
    const strip = Math.max(16, Math.round(4 * space));
    const reach = Math.max(2, Math.round(0.35 * space));
    const combs = combsOf(lineProfiles(page, strip, reach, slope), space);
    for (const track of tracksOf(combs, slope * strip)) {
      const lane = laneOf(page, track, strip, reach);
      if (lane && !lanes.some((one) => overlap(one, lane))) lanes.push(lane);
    }
  }
  return lanes;
}

function overlap(a: Lane, b: Lane): boolean {
  const [from, to] = [Math.max(a.x0, b.x0), Math.min(a.x1, b.x1)];
  if (from >= to) return false;
  const x = Math.round((from + to) / 2);
  return Math.abs(a.centre[x]! - b.centre[x]!) < 2 * (a.space + b.space);
}

function systemOf(page: Picture, group: Group, lanes: readonly Lane[]): PixelSystem {
  // Bar lines are square to the staves on a page that lies askew, and upright where the paper curls.
  const askew = -group.reduce((sum, { slope }) => sum + slope, 0) / group.length;
  const first = straighten(page, group, UNIT, MARGINS, askew);
  const more = leanOf(first);
  const straight = more === 0 ? first : straighten(page, group, UNIT, MARGINS, askew + more);
  const { strokes, doubts } = barlinesOf(straight);
  wipeAbove(
    straight,
    lanes.filter((lane) => !group.includes(lane)),
  );
  const staves = straight.tops.map((top, k) => ({
    ...straight.ends[k]!,
    lines: [0, 1, 2, 3, 4].map((line) => top + line * UNIT),
    space: UNIT,
    thickness: 0.12 * UNIT,
  }));
  return {
    straight,
    doubts,
    parts: {
      staves,
      strokes,
      dots: dotsOf(straight, strokes),
      brackets: bracketsOf(straight, strokes),
      things: thingsOf(straight, strokes),
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
  const found = (isMusic ? systems : [])
    .map(({ parts, straight, doubts }) => {
      const found = foundSystem(parts, { width: 1, height: 1 }, (bar) => ({
        sure: Math.min(
          bar.sure,
          bar.bracket?.sure ?? 1,
          1 - chanceInside(doubts, bar.x0, bar.x1),
          marginOf(bar, bar.x1 < (parts.staves[0]?.x1 ?? 0) - 4 * straight.unit),
        ),
      }));
      const uprights = uprightsInPixels(straight);
      const middle = straight.tops[0]! + 2 * straight.unit;
      const place = (u: number) => straight.toPage(u, middle)[0] / width;
      return { ...onPage(found, straight, width, height), seen: seenLines(parts, uprights, place) };
    })
    .filter(({ bars }) => bars.length > 0);
  return { page: index, ...size, systems: found, signs: [], by: 'pixels' };
}

/**
 * How sure a bar can be at most for what stands at its edges: simple steps, fitted on the tuning half of
 * tests/corpus/scans. A bar shown for correction is below 0.9.
 */
function marginOf({ left, right }: BarParts, isInside: boolean): number {
  // A final bar line in the middle of a line is more often a repeat whose dots were not seen.
  if (left === 'final' || (right === 'final' && isInside)) return 0.8;
  // Nothing at the end, or a bar before a start repeat, is rare on printed pages.
  if (right === 'none' || (left === 'none' && right === 'repeat-start')) return 0.8;
  // Where a line starts is seen less exactly than a bar line.
  return left === 'none' ? 0.98 : 1;
}

/** The chance that a stroke which was left out parts the bar. */
const chanceInside = (doubts: readonly Doubt[], x0: number, x1: number) =>
  Math.max(0, ...doubts.filter(({ x }) => x > x0 && x < x1).map(({ chance }) => chance));

/** A system found in a straightened picture, in fractions of the page. */
function onPage(system: FoundSystem, straight: Straight, width: number, height: number): FoundSystem {
  const box = (flat: PageBox) => boxOnPage(flat, straight, width, height);
  return {
    ...system,
    box: box(system.box),
    staves: system.staves.map((staff) => {
      const u = (staff.box[0] + staff.box[2]) / 2;
      return { box: box(staff.box), lines: staff.lines.map((v) => straight.toPage(u, v)[1] / height) };
    }),
    bars: system.bars.map((bar) => ({ ...bar, box: box(bar.box) })),
  };
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
