import { mapBars, placeOf } from './edit-shape.ts';
import type { Bar, BarId, BeatUnit, Marks, Meter } from './types.ts';

/** What is said of bars: null and false take it back, what is left out stays. */
export interface BarChange {
  readonly meter?: Meter | null;
  readonly unit?: BeatUnit | null;
  readonly section?: string | null;
  /** Beats the pickup holds. */
  readonly pickup?: number | null;
  readonly leadIn?: number | null;
  readonly silent?: boolean;
  readonly tied?: boolean;
  readonly repeatStart?: boolean;
  /** How many times the passage sounds in all. */
  readonly repeatEnd?: number | null;
  readonly ending?: readonly number[] | null;
  readonly continues?: boolean;
}

const same = (a: unknown, b: unknown) => JSON.stringify(a) === JSON.stringify(b);

function said(bar: Bar, change: BarChange): Bar {
  const kept: Record<string, unknown> = { ...bar };
  for (const [key, value] of Object.entries(change)) {
    const gone = value === null || value === false || value === '' || (Array.isArray(value) && !value.length);
    if (gone) Reflect.deleteProperty(kept, key);
    else if (value !== undefined) kept[key] = value;
  }
  return same(kept, bar) ? bar : (kept as unknown as Bar);
}

/** Says something of bars. Returns new marks; the same when it was said already. */
export function setBars(marks: Marks, bars: readonly BarId[], change: BarChange): Marks {
  for (const bar of bars) placeOf(marks, bar);
  const chosen = new Set(bars);
  return mapBars(marks, (bar) => (chosen.has(bar.id) ? said(bar, change) : bar));
}

export interface StartChange {
  readonly meter?: Meter;
  readonly unit?: BeatUnit | null;
}

/** Meter and beat unit at the start. */
export function setStart(marks: Marks, change: StartChange): Marks {
  const next = { ...marks, ...change };
  return same(next, marks) ? marks : next;
}
