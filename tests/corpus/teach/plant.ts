/** A finder that errs on purpose: whole classes of strokes taken for bar lines, or bar lines left out. */
import { TRAITS, type TraitName } from '../../../src/core/find/looks/traits.ts';
import type {
  FoundBar,
  FoundPage,
  FoundSystem,
  Ink,
  InkLine,
  PageInk,
  SeenLine,
} from '../../../src/core/find/types.ts';

export const trait = ({ look }: SeenLine, name: TraitName): number =>
  look[TRAITS.findIndex((one) => one.name === name)]!;

/** How sure the erring finder is of what it takes for bar lines. */
const TAKEN = 0.8;
/** Strokes this near to a bar line are its own, fractions of the page's width. */
const OWN = 0.008;

/** The page as found by one that takes these strokes for bar lines too. */
export function taking(page: FoundPage, isTaken: (line: SeenLine) => boolean): FoundPage {
  return { ...page, systems: page.systems.map((system) => takingIn(system, isTaken)) };
}

function takingIn(system: FoundSystem, isTaken: (line: SeenLine) => boolean): FoundSystem {
  const edges = system.bars.flatMap(({ box }) => [box[0], box[2]]);
  const planted: SeenLine[] = [];
  const seen = (system.seen ?? []).map((line): SeenLine => {
    const isFree = [...edges, ...planted.map(({ x }) => x)].every((x) => Math.abs(x - line.x) > OWN);
    const isInside = system.bars.some(({ box }) => line.x > box[0] && line.x < box[2]);
    if (line.kind !== undefined || !isFree || !isInside || !isTaken(line)) return line;
    planted.push(line);
    return { ...line, kind: 'single' };
  });
  const bars = system.bars.flatMap((bar): FoundBar[] => {
    const xs = planted.map(({ x }) => x).filter((x) => x > bar.box[0] && x < bar.box[2]);
    if (xs.length === 0) return [bar];
    const ends = [bar.box[0], ...xs, bar.box[2]];
    return ends.slice(1).map((x1, i): FoundBar => ({
      ...bar,
      box: [ends[i]!, bar.box[1], x1, bar.box[3]],
      left: i === 0 ? bar.left : 'single',
      right: i === xs.length ? bar.right : 'single',
      content: null,
      sure: Math.min(bar.sure, TAKEN),
    }));
  });
  return { ...system, seen, bars };
}

/** A stroke that a finder takes which looks only at where its ends are, and at no head beside it. */
export const isAsHigh = (line: SeenLine): boolean =>
  Math.abs(trait(line, 'over')) <= 0.9 && Math.abs(trait(line, 'under')) <= 0.9 && trait(line, 'cover') > 0.9;

/** How bar lines are printed that the finder does not know. */
export type Print = 'short' | 'dashed';

/** The page's ink with the bar lines at these places (points) printed another way. */
export function printed(
  page: PageInk,
  lines: readonly { readonly x: number; readonly top: number; readonly bottom: number }[],
  how: Print,
): PageInk {
  const ink = page.ink.flatMap((one): Ink[] => {
    if (one.kind !== 'line' || Math.abs(one.x0 - one.x1) > 0.2) return [one];
    const [top, bottom] = [Math.min(one.y0, one.y1), Math.max(one.y0, one.y1)];
    const line = lines.find(
      ({ x, top: from, bottom: to }) => Math.abs(x - one.x0) < 1 && top < from + 2 && bottom > to - 2,
    );
    return line ? anew({ ...one, y0: top, y1: bottom }, how) : [one];
  });
  return { ...page, ink };
}

function anew(line: InkLine, how: Print): InkLine[] {
  const { y0, y1 } = line;
  if (how === 'short') return [{ ...line, y0: y0 + (y1 - y0) * 0.2, y1: y1 - (y1 - y0) * 0.2 }];
  const PIECES = 7;
  const step = (y1 - y0) / (2 * PIECES - 1);
  return Array.from({ length: PIECES }, (_, i) => ({
    ...line,
    y0: y0 + 2 * i * step,
    y1: y0 + (2 * i + 1) * step,
  }));
}
