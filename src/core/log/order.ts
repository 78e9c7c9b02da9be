import type { Plan } from '../chart/types.ts';
import type { EventBase, EventId, LogEvent, UndoneBody } from './events.ts';

function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** Sittings by their lowest sequence, then by id. */
export function compareSittings(lowA: number, sittingA: string, lowB: number, sittingB: string): number {
  return lowA - lowB || compareText(sittingA, sittingB);
}

/** Within a sitting: by place, then sequence and id, for logs that were tampered with. */
const comparePlaces = (a: LogEvent, b: LogEvent): number =>
  a.place - b.place || a.seq - b.seq || compareText(a.id, b.id);

/** Log order: sittings never interleave and sort by their lowest sequence and id. */
const compareEvents =
  (lowest: ReadonlyMap<string, number>) =>
  (a: LogEvent, b: LogEvent): number =>
    a.sitting === b.sitting
      ? comparePlaces(a, b)
      : compareSittings(lowest.get(a.sitting) ?? a.seq, a.sitting, lowest.get(b.sitting) ?? b.seq, b.sitting);

/** Events of one sitting that follow each other. */
interface Run {
  readonly sitting: string;
  low: number;
}

/** What a fold has to know of a log beforehand. */
export interface Survey {
  /** The events in log order; the same array when it already is. */
  readonly ordered: readonly LogEvent[];
  /** Ids that an undone event which counts names. */
  readonly taken: ReadonlySet<EventId>;
  readonly plans: ReadonlyMap<EventId, Plan>;
}

/** Reads a log of one chart, in any order, once: over a million events every walk tells in the time. */
export function survey(events: readonly LogEvent[]): Survey {
  const runs: Run[] = [];
  const undone: (EventBase & UndoneBody)[] = [];
  const plans = new Map<EventId, Plan>();
  let run: Run | null = null;
  let before: LogEvent | null = null;
  let inOrder = true;
  for (const event of events) {
    if (event.type === 'undone') undone.push(event);
    else if (event.type === 'plan') plans.set(event.id, event.plan);
    if (before === null || run?.sitting !== event.sitting)
      runs.push((run = { sitting: event.sitting, low: event.seq }));
    else {
      if (event.seq < run.low) run.low = event.seq;
      if (inOrder && comparePlaces(before, event) > 0) inOrder = false;
    }
    before = event;
  }
  const lowest = new Map<string, number>();
  for (const { sitting, low } of runs) lowest.set(sitting, Math.min(lowest.get(sitting) ?? low, low));
  inOrder &&=
    runs.length === lowest.size &&
    runs.every(
      (one, i) =>
        i === 0 || compareSittings(runs[i - 1]!.low, runs[i - 1]!.sitting, one.low, one.sitting) < 0,
    );
  return {
    ordered: inOrder ? events : [...events].sort(compareEvents(lowest)),
    taken: takenBack(undone),
    plans,
  };
}

/** An undone event can only take back what its writer had seen, so those of higher sequence decide first. */
function takenBack(undone: (EventBase & UndoneBody)[]): Set<EventId> {
  undone.sort((a, b) => b.seq - a.seq || compareText(b.id, a.id));
  const taken = new Set<EventId>();
  for (const event of undone) if (!taken.has(event.id)) taken.add(event.event);
  return taken;
}
