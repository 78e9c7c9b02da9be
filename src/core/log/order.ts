import type { EventId, LogEvent } from './events.ts';

/** The lowest sequence of every sitting: what sittings sort by. */
export function lowestSeqs(events: readonly LogEvent[]): Map<string, number> {
  const lowest = new Map<string, number>();
  // Runs of one sitting are long: the map is touched once a run, which a million events need.
  let sitting: string | null = null;
  let low = 0;
  const close = () => {
    if (sitting !== null) lowest.set(sitting, Math.min(lowest.get(sitting) ?? low, low));
  };
  for (const event of events) {
    if (event.sitting === sitting) {
      if (event.seq < low) low = event.seq;
      continue;
    }
    close();
    sitting = event.sitting;
    low = event.seq;
  }
  close();
  return lowest;
}

function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** Sittings by their lowest sequence, then by id. */
export function compareSittings(lowA: number, sittingA: string, lowB: number, sittingB: string): number {
  return lowA - lowB || compareText(sittingA, sittingB);
}

/**
 * Log order: sittings never interleave and sort by their lowest sequence and id; within a sitting,
 * by place (then sequence and id, for logs that were tampered with).
 */
export function compareEvents(lowest: ReadonlyMap<string, number>): (a: LogEvent, b: LogEvent) => number {
  return (a, b) =>
    a.sitting === b.sitting
      ? a.place - b.place || a.seq - b.seq || compareText(a.id, b.id)
      : compareSittings(lowest.get(a.sitting) ?? a.seq, a.sitting, lowest.get(b.sitting) ?? b.seq, b.sitting);
}

/** The events of one chart in log order; the same array when it already is. */
export function inLogOrder(events: readonly LogEvent[]): readonly LogEvent[] {
  const compare = compareEvents(lowestSeqs(events));
  for (let i = 1; i < events.length; i++)
    if (compare(events[i - 1]!, events[i]!) > 0) return [...events].sort(compare);
  return events;
}

/**
 * Ids that an undone event which counts names. An undone event can only take back what its writer had
 * seen, so those of higher sequence decide first.
 */
export function takenBack(events: readonly LogEvent[]): Set<EventId> {
  const undone = events.filter((event) => event.type === 'undone');
  undone.sort((a, b) => b.seq - a.seq || compareText(b.id, a.id));
  const taken = new Set<EventId>();
  for (const event of undone) if (!taken.has(event.id)) taken.add(event.event);
  return taken;
}
