/** What a bar line taken away, added or moved says of its likes. */
import { addLine, moveLine, removeLine } from '../../chart/edit-lines.ts';
import { MIN_BAR, placeOf } from '../../chart/edit-shape.ts';
import type { NewId } from '../../chart/edit-systems.ts';
import type { BarId, Marks } from '../../chart/types.ts';
import { isShortLine, isTouched, middleLook, standsOut, unlikeness } from '../looks/traits.ts';
import type { SeenLine } from '../types.ts';
import { idsOf, insidesOf, isUntouched, lineAt, placesOf, type Inside, type Place } from './places.ts';
import type { Lesson, Taught } from './index.ts';

/** A bar is no narrower than this, in spaces. */
const NARROWEST = 3;
/** Strokes this near to each other stand at one bar line, in spaces. */
const TOGETHER = 1.2;
/** A moved line's likes moved as far, give or take this, in spaces. */
const AS_FAR = 0.4;
/** Bar lines that look as usual, against which the others stand out: at least so many. */
const USUAL = 3;
/** With heads at their sides the others may be this many times as many as the usual ones. */
const MANY = 3;

const isLike = (a: SeenLine, b: SeenLine) => unlikeness(a.look, b.look) <= 1;
const isLone = ({ line }: Place) => line.kind === 'single';

/** Bars that the correction itself has made: their outer lines are as they were found. */
const freshIn = ({ before, after }: Lesson): ReadonlySet<BarId> => {
  const old = idsOf(before);
  return new Set([...idsOf(after)].filter((id) => !old.has(id)));
};

/**
 * The places that look like a lone stroke which was no bar line. None where it looks as most bar lines do: then
 * the correction is about the music and not about the look; and none where the player has left one like it.
 */
function likesTaken(lesson: Lesson, wrong: SeenLine): Place[] {
  const { before, after, seen, denied } = lesson;
  if (wrong.kind !== 'single') return [];
  const all = placesOf(before, seen).filter(isLone);
  const others = all.filter(({ line }) => !isLike(line, wrong));
  const likes = all.filter(({ line }) => line !== wrong && isLike(line, wrong));
  const usual = middleLook(others.map(({ line }) => line.look));
  const most = isTouched(wrong.look) && !isTouched(usual) ? MANY * others.length : others.length - 1;
  if (others.length < USUAL || likes.length + 1 > most) return [];
  // One bar that the player has seen has such a line: it may be right elsewhere too.
  const isOwn = ({ left, right, line }: Place) =>
    denied.has(line) || (left !== null && !isUntouched(left)) || (right !== null && !isUntouched(right));
  if (![wrong, ...likes.map(({ line }) => line)].every(({ look }) => standsOut(look, usual))) return [];
  if (likes.some(isOwn)) return [];
  const fresh = freshIn(lesson);
  const isFree = (id: BarId, found: number | undefined) => found !== undefined || fresh.has(id);
  const now = new Map(placesOf(after, seen).map((place) => [place.line, place]));
  return likes.flatMap(({ line }) => {
    const place = now.get(line);
    if (!place?.left || !place.right) return [];
    const { left, right } = place;
    return isFree(left.id, left.found) && isFree(right.id, right.found) ? [place] : [];
  });
}

/** What a bar line taken away says: its likes are none either. */
export function joinLikes(lesson: Lesson, wrong: SeenLine): Taught | null {
  const likes = likesTaken(lesson, wrong);
  if (likes.length === 0) return null;
  const old = idsOf(lesson.after);
  let marks = lesson.after;
  for (const { system, line } of likes) {
    const now = marks.systems.find(({ id }) => id === system.id)!;
    const place = placesOf({ ...marks, systems: [now] }, lesson.seen).find((one) => one.line === line);
    if (!place?.right) continue;
    marks = removeLine(marks, system.id, now.bars.indexOf(place.right), lesson.newId);
  }
  return { what: 'joined', marks, lines: likes.map(({ line }) => line), bars: newBars(old, marks) };
}

/** What a bar line put in says: strokes like it that were left out are bar lines too. */
export function splitLikes(lesson: Lesson, right: SeenLine): Taught | null {
  const { before, after, seen, denied, newId } = lesson;
  // A stroke with a head is a stem, and two together are an accidental's, whatever stands here.
  if (!isShortLine(right.look)) return null;
  const likes = insidesOf(before, seen).filter(({ line }) => line !== right && isLike(line, right));
  const said = new Set(lesson.said);
  // A bar that the player calls right has such a stroke inside.
  if (likes.some(({ line, bar }) => denied.has(line) || !(isUntouched(bar) || said.has(bar.id)))) return null;
  const wanted = insidesOf(after, seen).filter(({ line }) => likes.some((one) => one.line === line));
  const fresh = freshIn(lesson);
  const free = wanted.filter(({ bar }) => isUntouched(bar) || fresh.has(bar.id));
  const { marks, lines } = split(after, groupsOf(free), newId);
  return lines.length === 0 ? null : { what: 'split', marks, lines, bars: newBars(idsOf(after), marks) };
}

/** Strokes that stand together, as at a double bar line, are one place. */
function groupsOf(insides: readonly Inside[]): Inside[][] {
  const groups: Inside[][] = [];
  for (const one of insides) {
    const last = groups.at(-1)?.at(-1);
    const isNext = last?.system === one.system && one.line.x - last.line.x <= TOGETHER * one.seen.space;
    if (isNext) groups.at(-1)!.push(one);
    else groups.push([one]);
  }
  return groups;
}

function split(start: Marks, groups: readonly (readonly Inside[])[], newId: NewId) {
  let marks = start;
  const lines: SeenLine[] = [];
  for (const group of groups) {
    const { system, seen } = group[0]!;
    const x = group.reduce((sum, { line }) => sum + line.x, 0) / group.length;
    const now = marks.systems.find(({ id }) => id === system.id)!;
    const least = Math.max(MIN_BAR, NARROWEST * seen.space);
    const bar = now.bars.find(({ x0, x1 }) => x - x0 >= least && x1 - x >= least);
    if (bar === undefined) continue;
    marks = addLine(marks, bar.id, x, newId);
    lines.push(...group.map(({ line }) => line));
  }
  return { marks, lines };
}

/** What a bar line moved from one stroke to another says: where both stand as they do here, it is the other. */
export function moveLikes(lesson: Lesson, wrong: SeenLine, right: SeenLine): Taught | null {
  const { after } = lesson;
  let marks = after;
  const lines: SeenLine[] = [];
  const bars = new Set<BarId>();
  for (const place of likesTaken(lesson, wrong)) {
    const { seen, system, line, right: bar } = place;
    const to = lineAt(seen, line.x + right.x - wrong.x, false);
    const isAsFar = to && Math.abs(to.x - line.x - (right.x - wrong.x)) <= AS_FAR * seen.space;
    if (!isAsFar || !isLike(to, right) || bar === null) continue;
    const { index } = placeOf(marks, bar.id);
    marks = moveLine(marks, system.id, index, to.x);
    lines.push(line);
    bars.add(bar.id);
  }
  return lines.length === 0 ? null : { what: 'moved', marks, lines, bars: [...bars] };
}

const newBars = (old: ReadonlySet<BarId>, marks: Marks): BarId[] =>
  [...idsOf(marks)].filter((id) => !old.has(id));
