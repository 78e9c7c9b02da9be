/** What a word said of bars says of their likes: a repeat put right, a doubt that was right, a line of no music. */
import { median } from '../../median.ts';
import { IN_DOUBT } from '../../chart/found.ts';
import { boxOf, mapBars } from '../../chart/edit-shape.ts';
import { removeSystem } from '../../chart/edit-systems.ts';
import type { BarChange } from '../../chart/edit-says.ts';
import type { Bar, BarId, Marks, System } from '../../chart/types.ts';
import { isTouched, unlikeness } from '../looks/traits.ts';
import type { SeenLine } from '../types.ts';
import { insidesOf, isUntouched, placesOf, type Place } from './places.ts';
import type { Lesson, Taught } from './index.ts';

const isLike = (a: SeenLine, b: SeenLine) => a.kind === b.kind && unlikeness(a.look, b.look) <= 1;

/** What is said of the likes of a bar in doubt that was right. */
export const RAISED = 0.95;
/** Two doubts so near have the same cause. */
const AS_SURE = 0.06;

type Sign = 'repeatStart' | 'repeatEnd';

/** The bar line that a sign of a bar stands at. */
const isAt = (sign: Sign, bar: BarId) => (place: Place) =>
  (sign === 'repeatStart' ? place.right?.id : place.left?.id) === bar;

/** A repeat that was put in or taken away: bar lines that look the same are read the same. */
export function repeatLikes(lesson: Lesson, bar: BarId, change: BarChange): Taught | null {
  const { before, after, seen, denied } = lesson;
  const sign: Sign | null =
    'repeatStart' in change ? 'repeatStart' : 'repeatEnd' in change ? 'repeatEnd' : null;
  if (sign === null) return null;
  const valueIn = (marks: Marks, id: BarId) =>
    marks.systems.flatMap(({ bars }) => bars).find((one) => one.id === id)?.[sign];
  const [was, is] = [valueIn(before, bar), valueIn(after, bar)];
  const places = placesOf(before, seen);
  const wrong = places.find(isAt(sign, bar))?.line;
  // How often a passage sounds is not written in its look; nor is a plain line a repeat in disguise.
  if (wrong === undefined || (was === undefined) === (is === undefined) || wrong.kind === 'single')
    return null;
  const last = after.systems.at(-1)?.bars.at(-1)?.id;
  const barOf = (place: Place) => (sign === 'repeatStart' ? place.right : place.left);
  const likes = places.filter((place) => place.line !== wrong && isLike(place.line, wrong));
  const others = places.length - likes.length - 1;
  const isOtherwise = (place: Place) =>
    denied.has(place.line) ||
    (barOf(place) !== null && !isUntouched(barOf(place)) && barOf(place)![sign] !== is);
  if (likes.length >= others || likes.some(isOtherwise)) return null;
  const chosen = likes.filter((place) => {
    const one = barOf(place);
    return isUntouched(one) && one![sign] === was && one!.id !== last;
  });
  if (chosen.length === 0) return null;
  const ids = new Set(chosen.map((place) => barOf(place)!.id));
  const marks = mapBars(after, (one) => {
    if (!ids.has(one.id)) return one;
    const { [sign]: _, ...rest } = one;
    return is === undefined ? rest : { ...one, [sign]: is };
  });
  return { what: 'repeats', marks, lines: chosen.map(({ line }) => line), bars: [...ids] };
}

/** What holds a bar: the bar lines at its sides and the strokes inside that no head makes a stem. */
function holdOf(bar: Bar, places: readonly Place[], insides: readonly { bar: Bar; line: SeenLine }[]) {
  return {
    left: places.find(isAt('repeatStart', bar.id))?.line ?? null,
    right: places.find(isAt('repeatEnd', bar.id))?.line ?? null,
    inside: insides
      .filter((one) => one.bar.id === bar.id && !isTouched(one.line.look))
      .map(({ line }) => line),
  };
}

type Hold = ReturnType<typeof holdOf>;

const isSameEdge = (a: SeenLine | null, b: SeenLine | null) =>
  a === null || b === null ? a === b : isLike(a, b);

const isSameHold = (a: Hold, b: Hold) =>
  isSameEdge(a.left, b.left) &&
  isSameEdge(a.right, b.right) &&
  b.inside.every((line) => a.inside.some((other) => isLike(line, other)));

/** Bars in doubt for the same look as one that was right are surer: the player is not asked about them. */
export function raiseLikes(lesson: Lesson, bars: readonly BarId[]): Taught | null {
  const { before, after, seen } = lesson;
  const places = placesOf(before, seen);
  const insides = insidesOf(before, seen);
  const all = before.systems.flatMap((system) => system.bars);
  const doubtful = all.filter(({ found }) => found !== undefined && found < IN_DOUBT);
  const right = doubtful.filter(({ id }) => bars.includes(id));
  const raised = doubtful.filter(
    (bar) =>
      !bars.includes(bar.id) &&
      right.some(
        (one) =>
          Math.abs(one.found! - bar.found!) <= AS_SURE &&
          (one.ending === undefined) === (bar.ending === undefined) &&
          hasEdge(holdOf(bar, places, insides)) &&
          isSameHold(holdOf(one, places, insides), holdOf(bar, places, insides)),
      ),
  );
  if (raised.length === 0) return null;
  const ids = new Set(raised.map(({ id }) => id));
  const marks = mapBars(after, (bar) => (ids.has(bar.id) ? { ...bar, found: RAISED } : bar));
  return { what: 'vouched', marks, lines: [], bars: [...ids] };
}

/** Nothing seen of a bar is no likeness. */
const hasEdge = ({ left, right }: Hold) => left !== null || right !== null;

const heightOf = ({ top, bottom }: System) => bottom - top;
/** Heights of lines of music this near are the same, and this far apart are another kind of staff, as shares. */
const SAME_HEIGHT = 0.03;
const OTHER_HEIGHT = 0.15;

/** A line of music that was taken away: lines as low or as high as it, unlike all others, are none either. */
export function removeLikes(lesson: Lesson, gone: System): Taught | null {
  const { after } = lesson;
  const usual = median(after.systems.map(heightOf));
  const height = heightOf(gone);
  const isOther = (value: number) => Math.abs(value - usual) > OTHER_HEIGHT * usual;
  const likes = after.systems.filter(
    (system) => Math.abs(heightOf(system) - height) <= SAME_HEIGHT * height && isOther(heightOf(system)),
  );
  const own = likes.some(({ bars }) => !bars.every(isUntouched));
  if (likes.length === 0 || own || 2 * likes.length >= after.systems.length) return null;
  // As wide, too: a staff at the start of a line is no line of its own.
  const width = (system: System) => boxOf(system)[2] - boxOf(system)[0];
  const alike = likes.filter((system) => Math.abs(width(system) - width(gone)) <= 0.2 * width(gone));
  if (alike.length === 0) return null;
  const marks = alike.reduce((rest, { id }) => removeSystem(rest, id), after);
  return { what: 'removed', marks, lines: [], bars: [] };
}
