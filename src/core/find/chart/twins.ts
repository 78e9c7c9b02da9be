import { isAlike, opened, type OpenedBar } from '../alike/compare.ts';
import { lineKeys } from '../alike/keys.ts';
import type { BarContent, ContentItem, FoundPage } from '../types.ts';
import type { Placed } from './settle.ts';

/** How far two signs may differ in height and, where they stand close together, in place; in spaces. */
const HEIGHT = 0.2;
const CLOSE = 1.4;
const PLACE = 0.5;
/** Heights of words may differ by more than this, and words from their notes by so much; in spaces. */
const WORDS = 50;
const MOVED = 1.3;
/** What does not stand at one place may move apart by this share of its distance more: a dot and the next note. */
const GROWN = 0.5;
/** Gaps in the same music may be drawn this much wider: or more, where all of the bar is. */
const WIDEST = 2.6;
const WIDER = 2;

/**
 * Classes of written bars that hold the same music as printed, each of two or more, ascending.
 * @param looks see `looksOf`
 */
export function twinsOf(
  written: readonly (readonly Placed[])[],
  looks: ReturnType<typeof looksOf>,
): number[][] {
  const isTwin = (a: number, b: number) => {
    const [one, other] = [contentOf(written[a]!), contentOf(written[b]!)];
    if (one !== null && other !== null) return isSame(one, other);
    const [left, right] = [looks[a], looks[b]];
    return (
      left != null &&
      right != null &&
      left.key !== null &&
      left.key === right.key &&
      isAlike(left.bar, right.bar)
    );
  };
  const classes: number[][] = [];
  written.forEach((parts, index) => {
    if (contentOf(parts) === null && looks[index] == null) return;
    // A twin of every bar of the class, not of one alone: small differences never add up.
    const same = classes.find((list) => list.every((other) => isTwin(other, index)));
    if (same) same.push(index);
    else classes.push([index]);
  });
  return classes.filter((list) => list.length > 1);
}

/** Bars broken over lines are compared with none. */
export function contentOf(parts: readonly Placed[]): BarContent | null {
  return parts.length === 1 ? (parts[0]!.bar.content ?? null) : null;
}

/** Bars of scans ready to be compared, with the key of their line, null where that is in doubt. */
export function looksOf(
  written: readonly (readonly Placed[])[],
  pages: readonly FoundPage[],
): ({ readonly bar: OpenedBar; readonly key: number | null } | null)[] {
  const keys = lineKeys(pages);
  return written.map((parts) => {
    const [{ page, system, bar }] = parts as [Placed];
    const key = keys.get(`${page} ${system}`) ?? null;
    return parts.length > 1 || !bar.picture ? null : { bar: opened(bar.picture), key };
  });
}

/** The same signs at the same heights in the same order, close ones equally close. */
export function isSame(a: BarContent, b: BarContent): boolean {
  if (a.key !== b.key || a.over[0] !== b.over[0] || a.over[1] !== b.over[1]) return false;
  if (a.items.length !== b.items.length || a.items.length === 0) return false;
  const pairs = pairsOf(a.items, b.items)?.filter(([one]) => one.anywhere !== true);
  if (pairs === undefined) return false;
  const stretch = b.width / a.width;
  if (a.apart !== true && b.apart !== true) return keepsOrder(pairs, stretch);
  const staves = new Set(pairs.map(([{ staff }]) => staff));
  return [...staves].every((staff) =>
    keepsOrder(
      pairs.filter(([one]) => one.staff === staff),
      stretch,
    ),
  );
}

type Pair = readonly [ContentItem, ContentItem];

function pairsOf(a: readonly ContentItem[], b: readonly ContentItem[]): Pair[] | null {
  const groups = (items: readonly ContentItem[]) => {
    const found = new Map<string, ContentItem[]>();
    for (const item of items) {
      const key = `${item.staff} ${item.name}`;
      found.set(key, [...(found.get(key) ?? []), item]);
    }
    for (const list of found.values()) list.sort((p, q) => p.x0 - q.x0 || p.y0 - q.y0);
    return found;
  };
  const [left, right] = [groups(a), groups(b)];
  if (left.size !== right.size) return null;
  const pairs: Pair[] = [];
  for (const [key, list] of left) {
    const other = right.get(key);
    if (other?.length !== list.length) return null;
    for (const [i, item] of list.entries()) {
      const one = other[i]!;
      const slack = Math.max(HEIGHT, item.slack);
      if (Math.abs(one.y0 - item.y0) > slack || Math.abs(one.y1 - item.y1) > slack) return null;
      pairs.push([item, one]);
    }
  }
  return pairs;
}

/**
 * Left ends come in the same order; what stands close together keeps its distance, or is moved apart only as far as
 * the second bar is `stretch` times as wide as the first.
 */
function keepsOrder(pairs: readonly Pair[], stretch: number): boolean {
  const sorted = [...pairs].sort(([a], [b]) => a.x0 - b.x0);
  const most = Math.max(WIDEST, WIDER * Math.max(stretch, 1 / stretch));
  for (let i = 1; i < sorted.length; i++) {
    const [a, b] = sorted[i]!;
    for (let j = i - 1; j >= 0; j--) {
      const [c, d] = sorted[j]!;
      const [gap, other] = [a.x0 - c.x0, b.x0 - d.x0];
      // Words are moved aside where they would touch each other, but not as far as the next note.
      const place = Math.max(a.slack, c.slack) > WORDS ? MOVED : PLACE;
      if (other < -place || other > gap * most + place || gap > Math.max(0, other) * most + place)
        return false;
      const isLoose = Math.max(a.slack, c.slack) > HEIGHT;
      const off = isLoose ? Math.max(place, 2 * PLACE) : place;
      const [least, widest] = [Math.min(gap, gap * stretch), Math.max(gap, gap * stretch)];
      if (gap <= CLOSE && (other < least - off || other > widest + off + GROWN * gap)) return false;
      if (gap > 4 * CLOSE) break;
    }
  }
  return true;
}
