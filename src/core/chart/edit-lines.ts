import { clamp, MIN_BAR, Refused, replace, systemOf, placeOf } from './edit-shape.ts';
import { defined, endOf, startOf, type NewId } from './edit-systems.ts';
import { apart } from './edit-twins.ts';
import type { Bar, BarId, Marks, SystemId } from './types.ts';

/** Places of a system's lines: one more than it has bars. */
export function linesOf(bars: readonly Bar[]): readonly number[] {
  return [...bars.map((bar) => bar.x0), ...bars.slice(-1).map((bar) => bar.x1)];
}

/**
 * Moves line `index` of a system (0 is its left edge) to x, as far as its neighbours leave room. The bars on
 * both sides share it.
 */
export function moveLine(marks: Marks, id: SystemId, index: number, x: number): Marks {
  const system = systemOf(marks, id);
  const left = system.bars[index - 1];
  const right = system.bars[index];
  if (!left && !right) throw new Refused('not-there');
  const low = left ? left.x0 + MIN_BAR : 0;
  const high = right ? right.x1 - MIN_BAR : 1;
  // Bars that are narrower than the least already leave no room at all.
  if (low > high) return marks;
  const to = clamp(x, low, high);
  const bars = system.bars.map((bar) => {
    if (bar === left && bar.x1 !== to) return { ...bar, x1: to };
    return bar === right && bar.x0 !== to ? { ...bar, x0: to } : bar;
  });
  return bars.every((bar, i) => bar === system.bars[i]) ? marks : replace(marks, { ...system, bars });
}

/** A new line through a bar at x (null: its middle) makes two bars of it. */
export function addLine(marks: Marks, bar: BarId, x: number | null, newId: NewId): Marks {
  const loose = apart(marks, [bar]);
  const { system, index } = placeOf(loose, bar);
  const old = system.bars[index]!;
  if (old.x1 - old.x0 < 2 * MIN_BAR) throw new Refused('too-small');
  const at = clamp(x ?? (old.x0 + old.x1) / 2, old.x0 + MIN_BAR, old.x1 - MIN_BAR);
  const both = defined({ ending: old.ending, silent: old.silent });
  const was = [old.id];
  const left: Bar = { ...startOf(old), ...both, id: newId(), x0: old.x0, x1: at, was };
  const right: Bar = { ...endOf(old), ...both, id: newId(), x0: at, x1: old.x1, was };
  return replace(loose, { ...system, bars: system.bars.toSpliced(index, 1, left, right) });
}

/** Takes out an inner line: the bars on its sides become one. An outer line only goes with its system. */
export function removeLine(marks: Marks, id: SystemId, index: number, newId: NewId): Marks {
  const before = systemOf(marks, id);
  if (index <= 0 || index >= before.bars.length) throw new Refused('last-line');
  const loose = apart(marks, [before.bars[index - 1]!.id, before.bars[index]!.id]);
  const system = systemOf(loose, id);
  const left = system.bars[index - 1]!;
  const right = system.bars[index]!;
  const joined: Bar = {
    ...overLine(left, right),
    // A pickup that takes in the bar after it is none any more.
    ...startOf(left, false),
    ...endOf(right),
    ...defined({ ending: left.ending ?? right.ending }),
    ...(left.silent && right.silent ? { silent: true as const } : {}),
    id: newId(),
    x0: left.x0,
    x1: right.x1,
    was: [left.id, right.id],
  };
  return replace(loose, { ...system, bars: system.bars.toSpliced(index - 1, 2, joined) });
}

/** Signs that stand over a bar line in error are the joined bar's, where its left part says nothing of the kind. */
function overLine(left: Bar, right: Bar): Partial<Bar> {
  const { section, when, meter, unit, repeatStart, segno, coda } = right;
  return defined({
    ...(left.section === undefined ? { section, when } : {}),
    ...(left.meter === undefined ? { meter, unit } : {}),
    repeatStart,
    segno,
    coda,
  });
}
