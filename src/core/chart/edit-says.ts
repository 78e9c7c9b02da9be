import { usualConventions } from './conventions.ts';
import { mapBars, placeOf } from './edit-shape.ts';
import type { BarId, BeatUnit, Conventions, Jump, Marks, Meter, SectionWhen, Stretch } from './types.ts';

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
  readonly segno?: boolean;
  readonly coda?: boolean;
  readonly toCoda?: boolean;
  readonly fine?: boolean;
  readonly jump?: Jump | null;
  /** Bars of a multi-bar rest, 2 or more. */
  readonly restBars?: number | null;
  readonly when?: SectionWhen | null;
  readonly continues?: boolean;
}

const same = (a: unknown, b: unknown) => JSON.stringify(a) === JSON.stringify(b);

/** A value with some of its attributes said anew: null, false and what is empty take one back. */
function said<T extends object>(before: T, change: object): T {
  const kept = { ...before } as Record<string, unknown>;
  for (const [key, value] of Object.entries(change) as [string, unknown][]) {
    const gone = value === null || value === false || value === '' || (Array.isArray(value) && !value.length);
    if (gone) Reflect.deleteProperty(kept, key);
    else if (value !== undefined) kept[key] = value;
  }
  return same(kept, before) ? before : (kept as unknown as T);
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

/** What is said of the form as a whole: null takes it back, what is left out stays. */
export interface FormChange {
  /** Times the whole form sounds; 1 and null are once. */
  readonly choruses?: number | null;
  /** Only what is switched; a convention that is as usual again is left out. */
  readonly conventions?: Partial<Conventions>;
  readonly byHand?: readonly Stretch[] | null;
}

/** Says how the form goes. Returns new marks; the same when it was said already. */
export function setForm(marks: Marks, { choruses, conventions, byHand }: FormChange): Marks {
  const switched = Object.fromEntries(
    Object.entries({ ...marks.conventions, ...conventions }).filter(
      ([key, value]) => value !== usualConventions[key as keyof Conventions],
    ),
  );
  return said(marks, {
    choruses: choruses === 1 ? null : choruses,
    conventions: Object.keys(switched).length > 0 ? switched : null,
    byHand,
  });
}
