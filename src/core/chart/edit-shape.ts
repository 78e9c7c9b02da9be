import type { Bar, BarId, Marks, PageBox, System } from './types.ts';

/** Narrowest bar and lowest system, fractions of the page: about 6 points of a printed page. */
export const MIN_BAR = 0.01;
export const MIN_HEIGHT = 0.006;
/** Most bars that one system is split into. */
export const MAX_BARS = 32;

/** Why an edit was not made. */
export type RefusalReason =
  | 'overlap'
  | 'too-small'
  | 'not-there'
  | 'last-line'
  | 'different-lengths'
  | 'itself'
  | 'too-few-bars'
  | 'own-bars';

/** An edit that cannot be made; the marks stay as they were. */
export class Refused extends Error {
  readonly reason: RefusalReason;
  /** Figures for the message: the two lengths of `different-lengths`, the bars left of `too-few-bars`. */
  readonly counts: readonly number[];
  constructor(reason: RefusalReason, counts: readonly number[] = []) {
    super(reason);
    this.name = 'Refused';
    this.reason = reason;
    this.counts = counts;
  }
}

export const clamp = (value: number, low: number, high: number): number =>
  Math.min(Math.max(value, low), high);

/** Every bar box in reading order. */
export const barsOf = (marks: Marks): readonly Bar[] => marks.systems.flatMap((system) => system.bars);

/** Bars that count: pickups and second parts of broken bars left out. */
export const fullBarsOf = (marks: Marks): readonly Bar[] =>
  barsOf(marks).filter((bar) => bar.pickup === undefined && !bar.continues);

export function systemOf(marks: Marks, id: string): System {
  const found = marks.systems.find((system) => system.id === id);
  if (!found) throw new Refused('not-there');
  return found;
}

/** The system that holds a bar, and the bar's place in it. */
export function placeOf(marks: Marks, bar: BarId): { readonly system: System; readonly index: number } {
  for (const system of marks.systems) {
    const index = system.bars.findIndex(({ id }) => id === bar);
    if (index >= 0) return { system, index };
  }
  throw new Refused('not-there');
}

/** A system's rectangle, from its first bar line to its last. */
export function boxOf(system: System): PageBox {
  return [system.bars[0]?.x0 ?? 0, system.top, system.bars.at(-1)?.x1 ?? 0, system.bottom];
}

/** Whether two systems cover some of the same paper; touching is allowed. */
export function overlaps(a: System, b: System): boolean {
  const [ax0, ay0, ax1, ay1] = boxOf(a);
  const [bx0, by0, bx1, by1] = boxOf(b);
  return a.page === b.page && ax0 < bx1 && bx0 < ax1 && ay0 < by1 && by0 < ay1;
}

/** Reading order: by page, then downwards; of two side by side the left one first. */
function readsBefore(a: System, b: System): boolean {
  if (a.page !== b.page) return a.page < b.page;
  const shared = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
  const sideBySide = shared > Math.min(a.bottom - a.top, b.bottom - b.top) / 2;
  return sideBySide ? boxOf(a)[0] < boxOf(b)[0] : a.top < b.top;
}

/** Puts a system where it is read. Returns new marks; refuses what overlaps another system. */
export function insert(marks: Marks, system: System): Marks {
  if (marks.systems.some((other) => overlaps(other, system))) throw new Refused('overlap');
  const at = marks.systems.findIndex((other) => readsBefore(system, other));
  const index = at < 0 ? marks.systems.length : at;
  return { ...marks, systems: marks.systems.toSpliced(index, 0, system) };
}

/** Takes a system out and puts its new version where it is read. */
export function replace(marks: Marks, system: System): Marks {
  const index = marks.systems.findIndex(({ id }) => id === system.id);
  const others = { ...marks, systems: marks.systems.toSpliced(index, 1) };
  if (others.systems.some((other) => overlaps(other, system))) throw new Refused('overlap');
  const stays =
    (index === 0 || readsBefore(others.systems[index - 1]!, system)) &&
    (index >= others.systems.length || readsBefore(system, others.systems[index]!));
  return stays ? { ...marks, systems: marks.systems.with(index, system) } : insert(others, system);
}

/** Changes bars one by one; the function gives back the same object for a bar that stays. */
export function mapBars(marks: Marks, change: (bar: Bar) => Bar): Marks {
  const systems = marks.systems.map((system) => {
    const bars = system.bars.map(change);
    return bars.every((bar, i) => bar === system.bars[i]) ? system : { ...system, bars };
  });
  return systems.every((system, i) => system === marks.systems[i]) ? marks : { ...marks, systems };
}

/** Nobody has touched any of its bars. */
export const isLooseLine = ({ bars }: System): boolean => bars.every(({ found }) => found !== undefined);
