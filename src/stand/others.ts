/** The other charts of a chart's file. A line of music belongs to one of them: no bar of one is lit in another. */
import { isLooseLine, overlaps } from '../core/chart/edit-shape.ts';
import { takeOut } from '../core/chart/part.ts';
import { linesLying, turnsOf } from '../core/chart/turn.ts';
import type { Marks, System, Turns } from '../core/chart/types.ts';
import type { ChartState } from '../core/log/state.ts';
import type { Store } from '../store/types.ts';
import type { OpenChart } from './chart.ts';
import { keepMarks, type Append } from './keep.ts';

export interface OtherChart {
  readonly state: ChartState;
  readonly marks: Marks;
  /** Its lines on pages that lie as in the chart that asks: places on others cannot be compared. */
  readonly lines: readonly System[];
}

/** The other marked charts of a chart's file, as seen from pages that lie as in `turns`. */
export async function othersOf(store: Store, chart: OpenChart, turns: Turns): Promise<OtherChart[]> {
  const { document } = chart.state.peek();
  const others = (await store.cards()).filter(
    (card) => card.document === document && card.chart !== chart.key && !card.removed && card.marks !== null,
  );
  const states = await Promise.all(others.map((card) => store.state(card.chart, new Date().toISOString())));
  return states.flatMap((state) => {
    if (!state?.marks) return [];
    const { marks } = state.marks;
    return [{ state, marks, lines: linesLying(marks, turns) }];
  });
}

export const holds = (lines: readonly System[], line: System) => lines.some((other) => overlaps(other, line));

/**
 * Lines that cannot be found for a chart, as another has them. A chart that is new takes lines that nobody has
 * touched from the chart of the whole file, whose lines were all its own at first; but not its beginning.
 */
export function linesTaken(
  others: readonly OtherChart[],
  found: readonly System[],
  isNew: boolean,
): readonly System[] {
  return others.flatMap(({ state, lines, marks }) => {
    const first = marks.systems[0];
    const isWhole = state.chart === state.document;
    const mayGive = isNew && isWhole && first !== undefined && !holds(found, first);
    return mayGive ? lines.filter((line) => !isLooseLine(line)) : lines;
  });
}

/** A chart loses these lines, and its plan their bars: it keeps its own numbers. Throws NotKept. */
export async function loseLines(
  append: Append,
  { marks, plan }: ChartState,
  lines: readonly System[],
): Promise<void> {
  if (!marks || lines.length === 0) return;
  const ids = lines.map(({ id }) => id);
  const { rest } = takeOut(marks.marks, ids);
  await keepMarks(append, rest, { parent: marks.event, numbers: plan?.plan.numbers ?? null });
}

/** The other charts give up the lines that these marks have now. Throws NotKept. */
export async function giveUp(store: Store, others: readonly OtherChart[], marks: Marks): Promise<void> {
  for (const { state, lines } of others)
    await loseLines(
      (bodies) => store.append(state.chart, crypto.randomUUID(), bodies),
      state,
      lines.filter((line) => holds(marks.systems, line)),
    );
}

/** Those lines of a chart that a tune found on its pages has, and they alone as marks, with all that was said of them. */
export function linesOfTune(marks: Marks, tune: Marks): { lines: readonly System[]; part: Marks } {
  const lines = linesLying(marks, turnsOf(tune)).filter((line) => holds(tune.systems, line));
  const ids = lines.map(({ id }) => id);
  return { lines, part: lines.length === 0 ? tune : takeOut(marks, ids).part };
}
