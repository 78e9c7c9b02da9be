import type { EventId, LogEvent } from './events.ts';

/** JSON with the keys of every object sorted: equal values give equal text. */
export function canonicalJson(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(canonicalJson).join(',')}]`;
  if (value !== null && typeof value === 'object') {
    const entries = Object.entries(value).filter(([, held]) => held !== undefined);
    entries.sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0));
    return `{${entries.map(([key, held]) => `${JSON.stringify(key)}:${canonicalJson(held)}`).join(',')}}`;
  }
  return JSON.stringify(value);
}

/** Of two events with one id, the one whose canonical JSON is smaller. */
export function smaller<T>(a: T, b: T): T {
  return canonicalJson(b) < canonicalJson(a) ? b : a;
}

/**
 * The union by id, in any order and any number of times with the same result; sorted by id.
 * Returns new; does not mutate.
 */
export function mergeEvents(...logs: readonly (readonly LogEvent[])[]): LogEvent[] {
  const byId = new Map<EventId, LogEvent>();
  for (const log of logs)
    for (const event of log) {
      const held = byId.get(event.id);
      byId.set(event.id, held ? smaller(held, event) : event);
    }
  return [...byId.values()].sort((a, b) => (a.id < b.id ? -1 : 1));
}
