import type { PageBox } from '../../chart/types.ts';
import type {
  BarLineKind,
  Bracket,
  FoundBar,
  FoundSystem,
  StaffParts,
  SystemParts,
  Thing,
  ThingKind,
} from '../types.ts';
import { boundariesOf, type Boundary } from './boundaries.ts';

/** A bar is at least so many spaces wide. */
const NARROWEST = 1.5;
/** Share of a bar that lies under a bracket when it is the bracket's. */
const UNDER = 0.5;

/** Size of the page in the unit of the parts. */
export interface PageSize {
  readonly width: number;
  readonly height: number;
}

/** One bar with what stands in it, in the unit of the parts. */
export interface BarParts {
  readonly x0: number;
  readonly x1: number;
  /** Its ends on each staff, where they stand elsewhere on each. */
  readonly edges?: readonly (readonly [x0: number, x1: number])[];
  readonly left: BarLineKind;
  readonly right: BarLineKind;
  readonly bracket: Bracket | null;
  readonly things: readonly Thing[];
  readonly sure: number;
}

/** A bar with the ends that it has on one of its staves. */
export function onStaff(bar: BarParts, staff: number): BarParts {
  const own = bar.edges?.[staff];
  return own === undefined ? bar : { ...bar, x0: own[0], x1: own[1] };
}

/** The staff that something at this height belongs to: the nearest. */
export function staffAt(staves: readonly StaffParts[], y: number): number {
  if (staves.length === 1) return 0;
  let best = 0;
  let least = Infinity;
  for (let i = 0; i < staves.length; i++) {
    const { lines } = staves[i]!;
    const off = Math.max(lines[0]! - y, y - lines.at(-1)!, 0);
    if (off >= least) continue;
    best = i;
    least = off;
  }
  return best;
}

/** Things that sound or are counted; clefs, signatures and accidentals at the edges are not. */
const isPlayed = ({ kind }: Thing) =>
  kind === 'head' || kind === 'rest' || kind === 'multi-rest' || kind === 'slash';

/** The bars of a system: between its boundaries, where there is more than the restated clef. */
export function barsOf(parts: SystemParts): BarParts[] {
  const { x0, x1, space } = parts.staves[0]!;
  const boundaries = boundariesOf(parts);
  const edge = (x: number): Boundary => ({ x, x0: x, x1: x, left: x, right: x, kind: 'none', sure: 1 });
  const edges = [edge(x0), ...boundaries, edge(x1)];
  const found: BarParts[] = [];
  for (const [i, left] of edges.entries()) {
    const right = edges[i + 1];
    if (right === undefined) continue;
    const things = parts.things.filter((thing) => {
      const middle = (thing.x0 + thing.x1) / 2;
      const staff = left.own || right.own ? staffAt(parts.staves, (thing.y0 + thing.y1) / 2) : 0;
      return middle > (left.own?.[staff] ?? left.x) && middle < (right.own?.[staff] ?? right.x);
    });
    const isOpen = right.kind === 'none';
    const isEmpty = !things.some(isPlayed);
    if (right.x - left.x < NARROWEST * space) continue;
    // The tail after the last bar line, with or without the next line's signatures.
    if (isOpen && isEmpty) continue;
    // The clef's own place before a start repeat, or before another line right behind it.
    if (
      i === 0 &&
      isEmpty &&
      (right.kind === 'repeat-start' || endsAtSigns(things, right, edges[i + 2], parts.staves[0]!))
    )
      continue;
    const bracket = parts.brackets.find((one) => overlap(one, left.x, right.x) >= UNDER) ?? null;
    const sure = Math.min(left.sure, right.sure, isOpen ? 0.9 : 1, parts.sure, isEmpty ? 0.97 : 1);
    const own =
      left.own || right.own
        ? parts.staves.map((_, k) => [left.own?.[k] ?? left.x, right.own?.[k] ?? right.x] as const)
        : undefined;
    found.push({
      x0: left.x,
      x1: right.x,
      ...(own && { edges: own }),
      left: left.kind,
      right: right.kind,
      bracket,
      things,
      sure,
    });
  }
  return found;
}

/** A line stands so close behind clef, key and meter, as a share of the bar behind it, when it ends no bar. */
const AT_SIGNS = 0.25;
const SIGNATURES: ReadonlySet<string> = new Set<ThingKind>(['clef', 'accidental', 'time']);

/** Nothing but a clef and what belongs to it before `right`, and no room for a bar; `next` is the boundary after. */
function endsAtSigns(
  things: readonly Thing[],
  right: Boundary,
  next: Boundary | undefined,
  { lines }: StaffParts,
): boolean {
  const inStaff = things.filter(({ y0, y1 }) => y1 > lines[0]! && y0 < lines.at(-1)!);
  const isClef = inStaff.some(({ kind }) => kind === 'clef');
  if (next === undefined || !isClef || !inStaff.every(({ kind }) => SIGNATURES.has(kind))) return false;
  return right.left - Math.max(...inStaff.map(({ x1 }) => x1)) < AT_SIGNS * (next.x - right.x);
}

function overlap(bracket: Bracket, x0: number, x1: number): number {
  return Math.max(0, Math.min(bracket.x1, x1) - Math.max(bracket.x0, x0)) / (x1 - x0);
}

/** A system with its bars as found, boxes in fractions of the page. `more` adds what only one way of finding knows. */
export function foundSystem(
  parts: SystemParts,
  own: readonly BarParts[],
  page: PageSize,
  more: (bar: BarParts, index: number) => Partial<FoundBar>,
): FoundSystem {
  const { width, height } = page;
  const box = (x0: number, y0: number, x1: number, y1: number): PageBox => [
    x0 / width,
    y0 / height,
    x1 / width,
    y1 / height,
  ];
  const { staves } = parts;
  const top = staves[0]!.lines[0]!;
  const bottom = staves.at(-1)!.lines.at(-1)!;
  let before: Bracket | null = null;
  const bars = own.map((bar, index): FoundBar => {
    const starts = bar.bracket !== null && bar.bracket !== before;
    before = bar.bracket;
    return {
      box: box(bar.x0, top, bar.x1, bottom),
      left: bar.left,
      right: bar.right,
      ...(bar.bracket === null ? {} : { ending: bar.bracket.numbers }),
      ...(starts && (bar.bracket.numbers.length > 0 || bar.bracket.unread)
        ? { endingStarts: true as const }
        : {}),
      sure: Math.min(bar.sure, bar.bracket?.sure ?? 1),
      ...more(bar, index),
    };
  });
  return {
    box: box(Math.min(...staves.map(({ x0 }) => x0)), top, Math.max(...staves.map(({ x1 }) => x1)), bottom),
    staves: staves.map(({ x0, x1, lines }) => ({
      box: box(x0, lines[0]!, x1, lines.at(-1)!),
      lines: lines.map((y) => y / height),
    })),
    bars,
    sure: parts.sure,
  };
}
