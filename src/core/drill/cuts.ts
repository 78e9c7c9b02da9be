import type { PlacedBox, Plan, Span } from '../chart/types.ts';
import { barsOf } from './layout.ts';
import { staffHeight, type Size } from './legible.ts';
import { isMultiRest, type Stretch } from './rests.ts';
import { startingAt } from './start.ts';

/** A printed line of music: what its bars have in common. Fractions of its page. */
export interface Line {
  readonly page: number;
  /** Top line of its top staff and bottom line of its bottom staff. */
  readonly top: number;
  readonly bottom: number;
  /** Its top line where it begins: lower than `top` where the line rises. */
  readonly head: number;
  /** Where its staff begins, as far as is known: its first bar, which a repeat sets behind its clef; and its last's end. */
  readonly x0: number;
  readonly x1: number;
  /** Bottom line of the staves over it and top line of those under it; null where there are none on its page. */
  readonly above: number | null;
  readonly below: number | null;
  /** Top and bottom of its reach, or as far as what would be cut through. */
  readonly y0: number;
  readonly y1: number;
  /** Beyond these only what is joined to what lies between them is the line's own; null where nothing else is there. */
  readonly ownFrom: number | null;
  readonly ownTo: number | null;
  /** Where clef and key signature end, and the farthest that may be: the end of its first bar, or where a repeat opens it. */
  readonly clefEnd: number;
  readonly clefMost: number;
}

/** A box to be cut out, in the order in which it sounds. */
export interface Cut {
  readonly placed: PlacedBox;
  /** Bar of the span, from 0; -1 the pickup. */
  readonly bar: number;
  readonly line: Line;
  /** Height of one of its staves, CSS px of the page at 100 %. */
  readonly staff: number;
  /** A bar of a rest of several, which all stand in one box. */
  readonly isRest: boolean;
  /** Left out where it is set. */
  readonly out?: readonly Stretch[];
}

/**
 * Marks do not hold where clef and key signature end. Three staff heights hold a clef and seven accidentals
 * (LilyPond's spacing: clef 2.7 staff spaces, each accidental about 1, gaps 0.8 and 1.2), and without a look
 * at the page nothing narrower is safe. Never beyond the line's first bar.
 */
const CLEF_STAVES = 3;

/** What was seen of the line whose top staff line is at `top`, fractions of the page; null where nobody looked. */
export interface Seen {
  /** Where its clef and key signature end. */
  clefEnd(page: number, top: number): number | null;
  /** Where its staff begins, when that is before its first bar. */
  start(page: number, top: number): number | null;
  /** Where that begins which the upper end of its reach would cut through. */
  begin(page: number, top: number): number | null;
  /** Where that ends which the lower end of its reach would cut through. */
  end(page: number, top: number): number | null;
  /** Above and below which stands what is of the next line. */
  ownFrom(page: number, top: number): number | null;
  ownTo(page: number, top: number): number | null;
}

export const NOTHING_SEEN: Seen = {
  clefEnd: () => null,
  start: () => null,
  begin: () => null,
  end: () => null,
  ownFrom: () => null,
  ownTo: () => null,
};

/** A span's boxes in the order they sound, the pickup first where the span starts with it, each with its line. */
export function cutsOf(
  plan: Plan,
  span: Span,
  pages: readonly Size[],
  seen: Seen = NOTHING_SEEN,
): readonly Cut[] {
  const all = [...(plan.pickup?.boxes ?? []), ...plan.bars.flatMap((bar) => bar.boxes)];
  const lines = new Map<string, Line>();
  const lineOf = (placed: PlacedBox): Line => {
    const key = `${placed.page} ${placed.box[1]} ${placed.box[3]}`;
    const known = lines.get(key);
    if (known) return known;
    const boxes = all.filter((other) => onOneLine(placed, other)).sort((a, b) => a.box[0] - b.box[0]);
    const first = boxes[0]!;
    const wide = (CLEF_STAVES * staffHeight(placed, pages)) / pages[placed.page]!.width;
    const start = seen.start(placed.page, placed.box[1]);
    const printed = { x0: first.box[0], clefMost: first.box[2] };
    const { x0, clefMost } = start === null ? printed : startingAt(printed, start, wide / CLEF_STAVES);
    const x1 = Math.max(...boxes.map(({ box }) => box[2]));
    const beside = all.filter(
      ({ page, box }) => page === placed.page && box[0] < x1 && box[2] > first.box[0],
    );
    const above = beside.map(({ box }) => box[3]).filter((bottom) => bottom <= placed.box[1]);
    const below = beside.map(({ box }) => box[1]).filter((top) => top >= placed.box[3]);
    const line: Line = {
      page: placed.page,
      top: placed.box[1],
      bottom: placed.box[3],
      head: placed.box[1] + Math.max(0, -(placed.lean ?? 0)),
      x0,
      x1,
      above: above.length > 0 ? Math.max(...above) : null,
      below: below.length > 0 ? Math.min(...below) : null,
      y0: seen.begin(placed.page, placed.box[1]) ?? placed.reach[1],
      y1: seen.end(placed.page, placed.box[1]) ?? placed.reach[3],
      ownFrom: seen.ownFrom(placed.page, placed.box[1]),
      ownTo: seen.ownTo(placed.page, placed.box[1]),
      clefEnd: Math.min(seen.clefEnd(placed.page, placed.box[1]) ?? x0 + wide, clefMost),
      clefMost,
    };
    lines.set(key, line);
    return line;
  };
  const cut = (bar: number, isRest: boolean) => (placed: PlacedBox) => ({
    placed,
    bar,
    isRest,
    line: lineOf(placed),
    staff: staffHeight(placed, pages),
  });
  const pickup = span.from === 0 && plan.pickup ? plan.pickup.boxes.map(cut(-1, false)) : [];
  return [
    ...pickup,
    ...barsOf(plan, span).flatMap((bar, i) => bar.boxes.map(cut(i, isMultiRest(plan, bar)))),
  ];
}

/** Whether two boxes stand on the same printed line. */
export const onOneLine = (a: PlacedBox, b: PlacedBox) =>
  a.page === b.page && a.box[1] === b.box[1] && a.box[3] === b.box[3];

/** Bars further apart than this share of the page's width are not neighbours: a jump leaves some out. */
const APART = 0.01;

/** Two bars of the same rest. */
export const isSameRest = (a: Cut | undefined, b: Cut): boolean =>
  a !== undefined &&
  a.isRest &&
  b.isRest &&
  onOneLine(a.placed, b.placed) &&
  a.placed.box[0] === b.placed.box[0];

/** Cuts that follow each other on the page without a gap, or stand in one box, together. */
export function runsOf(cuts: readonly Cut[]): readonly (readonly Cut[])[] {
  const runs: Cut[][] = [];
  for (const cut of cuts) {
    const last = runs.at(-1)?.at(-1);
    const gap =
      last && onOneLine(last.placed, cut.placed) ? cut.placed.box[0] - last.placed.box[2] : Infinity;
    if (Math.abs(gap) <= APART || isSameRest(last, cut)) runs.at(-1)!.push(cut);
    else runs.push([cut]);
  }
  return runs;
}
