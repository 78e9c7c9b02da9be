import {
  boxOf,
  clamp,
  insert,
  MAX_BARS,
  MIN_BAR,
  MIN_HEIGHT,
  Refused,
  replace,
  systemOf,
} from './edit-shape.ts';
import { apart } from './edit-twins.ts';
import { leaning } from './reach.ts';
import type { Bar, Marks, PageBox, System, SystemId } from './types.ts';

export type NewId = () => string;

/** How far the next line lies below, in system heights, when there is only one line to go by. */
const FIRST_DISTANCE = 2.5;

function ordered([x0, y0, x1, y1]: PageBox): PageBox {
  const within = (value: number) => clamp(value, 0, 1);
  return [
    within(Math.min(x0, x1)),
    within(Math.min(y0, y1)),
    within(Math.max(x0, x1)),
    within(Math.max(y0, y1)),
  ];
}

/** Lines of `count` even bars, count + 1 places. */
export function evenLines(x0: number, x1: number, count: number): readonly number[] {
  const bars = clamp(Math.round(count), 1, Math.max(1, Math.min(MAX_BARS, Math.floor((x1 - x0) / MIN_BAR))));
  return Array.from({ length: bars + 1 }, (_, i) => (i === bars ? x1 : x0 + ((x1 - x0) * i) / bars));
}

const barsBetween = (lines: readonly number[], newId: NewId): readonly Bar[] =>
  lines.slice(1).map((x1, i) => ({ id: newId(), x0: lines[i]!, x1 }));

/** A system over a dragged box, split evenly. The box may be given from any corner. */
export function addSystem(marks: Marks, page: number, drawn: PageBox, count: number, newId: NewId): Marks {
  const [x0, top, x1, bottom] = ordered(drawn);
  if (x1 - x0 < MIN_BAR || bottom - top < MIN_HEIGHT) throw new Refused('too-small');
  const bars = barsBetween(evenLines(x0, x1, count), newId);
  return insert(marks, { id: newId(), page, top, bottom, bars });
}

/**
 * Splits a system evenly into another number of bars. What belongs to its beginning stays on the first
 * bar, what belongs to its end on the last one.
 */
export function setCount(marks: Marks, id: SystemId, count: number, newId: NewId): Marks {
  const system = systemOf(marks, id);
  const [x0, , x1] = boxOf(system);
  const lines = evenLines(x0, x1, count);
  if (lines.length - 1 === system.bars.length) return marks;
  const first = system.bars[0]!;
  const last = system.bars.at(-1)!;
  const bars = barsBetween(lines, newId).map((bar, i, all): Bar => {
    // Lines may fall on the old ones but for rounding.
    const sliver = MIN_BAR / 100;
    const was = system.bars.filter((old) => old.x0 < bar.x1 - sliver && old.x1 > bar.x0 + sliver);
    return {
      ...bar,
      ...(i === 0 ? startOf(first) : {}),
      ...(i === all.length - 1 ? endOf(last) : {}),
      was: was.map((old) => old.id),
    };
  });
  const loose = apart(
    marks,
    system.bars.map((bar) => bar.id),
  );
  return replace(loose, { ...systemOf(loose, id), bars });
}

/** What a bar says about its beginning, with or without that it is the pickup. */
export function startOf(bar: Bar, pickup = true): Partial<Bar> {
  const { meter, unit, section, when, leadIn, repeatStart, segno, coda, continues } = bar;
  return defined({
    meter,
    unit,
    section,
    when,
    pickup: pickup ? bar.pickup : undefined,
    leadIn,
    repeatStart,
    segno,
    coda,
    continues,
  });
}

/** What a bar says about its end. */
export function endOf(bar: Bar): Partial<Bar> {
  const { tied, repeatEnd, toCoda, fine, jump } = bar;
  return defined({ tied, repeatEnd, toCoda, fine, jump });
}

export function defined<T extends object>(value: T): { [K in keyof T]?: Exclude<T[K], undefined> } {
  return Object.fromEntries(Object.entries(value).filter(([, each]) => each !== undefined)) as {
    [K in keyof T]?: Exclude<T[K], undefined>;
  };
}

/** Moves a whole system, as far as the page goes. */
export function moveSystem(marks: Marks, id: SystemId, dx: number, dy: number): Marks {
  const system = systemOf(marks, id);
  const [x0, top, x1, bottom] = boxOf(system);
  const across = clamp(dx, -x0, 1 - x1);
  const down = clamp(dy, -top, 1 - bottom);
  if (across === 0 && down === 0) return marks;
  // A shift that ends on the page's edge must not round to a place outside it.
  const shift = (value: number) => clamp(value + across, 0, 1);
  return replace(marks, {
    ...system,
    top: clamp(top + down, 0, 1),
    bottom: clamp(bottom + down, 0, 1),
    bars: system.bars.map((bar) => ({ ...bar, x0: shift(bar.x0), x1: shift(bar.x1) })),
  });
}

/** Sets a system's top and bottom line; its bars keep their places. How much it leans is not known any more. */
export function resizeSystem(marks: Marks, id: SystemId, top: number, bottom: number): Marks {
  const system = systemOf(marks, id);
  const movedTop = top !== system.top;
  const low = movedTop ? clamp(top, 0, bottom - MIN_HEIGHT) : top;
  const high = movedTop ? bottom : clamp(bottom, top + MIN_HEIGHT, 1);
  if (low < 0 || high > 1 || high - low < MIN_HEIGHT / 2) throw new Refused('too-small');
  if (low === system.top && high === system.bottom) return marks;
  const { lean: _, ...straight } = system;
  return replace(marks, { ...straight, top: low, bottom: high });
}

/** Takes a system and its bars off the page. */
export function removeSystem(marks: Marks, id: SystemId): Marks {
  const ids = systemOf(marks, id).bars.map((bar) => bar.id);
  const loose = apart(marks, ids);
  return { ...loose, systems: loose.systems.filter((system) => system.id !== id) };
}

/** Where a copy of a system goes, in fractions of the page. */
export interface NextPlace {
  readonly page: number;
  readonly top: number;
}

/**
 * Where the line after `like` will be: as far below as it lies below the line before it; past the foot of
 * the page, at the height of the page's first line on the next one. Null past the last page.
 */
export function nextPlace(marks: Marks, like: SystemId, pages: number): NextPlace | null {
  const system = systemOf(marks, like);
  const height = system.bottom - system.top;
  const before = marks.systems[marks.systems.indexOf(system) - 1];
  const paced = before?.page === system.page && before.bottom <= system.top;
  const top = system.top + (paced ? system.top - before.top : height * FIRST_DISTANCE);
  if (top + height <= 1) return { page: system.page, top };
  const first = marks.systems.find(({ page }) => page === system.page)!;
  return system.page + 1 < pages ? { page: system.page + 1, top: Math.min(first.top, 1 - height) } : null;
}

/** Puts a copy of a system's shape, its lines but nothing of what they say, on another place. */
export function copySystem(marks: Marks, like: SystemId, place: NextPlace, newId: NewId): Marks {
  const system: System = systemOf(marks, like);
  const height = system.bottom - system.top;
  const top = clamp(place.top, 0, 1 - height);
  const bars = system.bars.map(({ x0, x1 }) => ({ id: newId(), x0, x1 }));
  const bottom = Math.min(1, top + height);
  return insert(marks, { id: newId(), page: place.page, top, bottom, ...leaning(system), bars });
}
