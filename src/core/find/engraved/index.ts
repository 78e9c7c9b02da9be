import { foundSystem } from '../bars/bars.ts';
import type { FoundPage, PageInk, StaffParts, SystemParts } from '../types.ts';
import { bracketsOf } from './brackets.ts';
import { stavesIn } from './staves.ts';
import { straights, type Straights } from './straight.ts';
import { bottomOf, systemsOf, topOf } from './systems.ts';
import { dotsOf, signsAt, thingsOf } from './things.ts';
import { strokesOf } from './uprights.ts';

/** Systems, bars and signs of an engraved page. A page without staves of five lines has none. */
export function findInInk(page: PageInk, index = 0): FoundPage {
  const lines = straights(page.ink);
  const staves = stavesIn(lines.across);
  const systems = systemsOf(staves, lines.upright);
  const found = systems.map((system) => {
    const parts = partsOf(system, systems, lines, page);
    return foundSystem(parts, page);
  });
  return {
    page: index,
    width: page.width,
    height: page.height,
    systems: found.filter(({ bars }) => bars.length > 0),
    signs: [],
    by: 'ink',
  };
}

function partsOf(
  staves: readonly StaffParts[],
  systems: readonly (readonly StaffParts[])[],
  lines: Straights,
  page: PageInk,
): SystemParts {
  const { space } = staves[0]!;
  const [ceiling, floor] = surroundings(staves, systems, page.height);
  const signs = signsAt(staves, page.ink, ceiling, floor);
  const things = thingsOf(signs, space);
  const blobs = things.filter(({ kind }) => kind === 'head');
  return {
    staves,
    strokes: strokesOf(staves, lines.upright, blobs),
    dots: dotsOf(signs, space),
    brackets: bracketsOf(staves, lines, page.ink, ceiling),
    things,
    sure: 0.998,
  };
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
