import { playablePlan } from '../core/chart/index.ts';
import type { Marks, Numbers } from '../core/chart/types.ts';
import type { EventBody, EventId } from '../core/log/events.ts';
import type { ChartState } from '../core/log/state.ts';

/** Writes to the log of one chart. Throws NotKept. */
export type Append = (bodies: readonly EventBody[]) => Promise<ChartState>;

export interface Keeping {
  /** The marks that these come after. */
  readonly parent: EventId | null;
  /** Those of the plan; null: the chart has none. */
  readonly numbers: Numbers | null;
  /** What is said with the marks, before them. */
  readonly first?: readonly EventBody[];
}

/** Keeps marks, and then the plan that they make where they can be drilled. Throws NotKept. */
export async function keepMarks(
  append: Append,
  marks: Marks,
  { parent, numbers, first = [] }: Keeping,
): Promise<void> {
  const { marks: kept } = await append([...first, { type: 'marks', parent, marks }]);
  const plan = numbers && playablePlan(marks, numbers);
  if (kept && plan) await append([{ type: 'plan', marks: kept.event, plan }]);
}
