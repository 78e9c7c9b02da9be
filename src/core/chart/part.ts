/** One chart out of a book: lines of music that are a tune of their own. */
import { mendOrder } from './by-hand.ts';
import { apart } from './edit-twins.ts';
import { mapBars } from './edit-shape.ts';
import type { Marks, SystemId } from './types.ts';
import { withVersion } from './version.ts';
import { writtenBars } from './written.ts';

export interface Parted {
  /** Marks of the new chart, with the meter and unit that these lines stood in. */
  readonly part: Marks;
  /** What stays. */
  readonly rest: Marks;
}

/**
 * Takes lines out of a chart, to be one of their own. Bars keep their ids; twins that are parted keep company
 * on either side. How signs are read goes with them, choruses and an order by hand stay.
 */
export function takeOut(marks: Marks, lines: readonly SystemId[]): Parted {
  const goes = new Set(lines);
  const bars = marks.systems.filter(({ id }) => goes.has(id)).flatMap((system) => system.bars);
  const ids = new Set(bars.map(({ id }) => id));
  const others = marks.systems.flatMap((system) => system.bars).filter(({ id }) => !ids.has(id));
  const first = writtenBars(marks).find((bar) => bar.ids.some((id) => ids.has(id)));
  const start = first ? { meter: first.meter, unit: first.unit } : { meter: marks.meter, unit: marks.unit };
  const split = (
    stays: ReadonlySet<string>,
    leave: readonly { readonly id: string }[],
    whole: Marks,
  ): Marks => {
    const left = apart(
      whole,
      leave.map(({ id }) => id),
    );
    const systems = left.systems.filter((system) => system.bars.some(({ id }) => stays.has(id)));
    return withVersion(mendOrder(whole, { ...left, systems }));
  };
  const { byHand, choruses, ...plain } = marks;
  const part = split(ids, others, { ...plain, ...start });
  const firstBar = part.systems[0]?.bars[0]?.id;
  return {
    part: mapBars(part, (bar) => {
      if (bar.id !== firstBar) return bar;
      // What it starts with is said at the start of the chart now; and nothing comes before to be continued.
      const { meter, unit, continues, ...own } = bar;
      return own;
    }),
    rest: split(new Set(others.map(({ id }) => id)), bars, marks),
  };
}
