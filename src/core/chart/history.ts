/** A value with everything it was and everything that was taken back. Immutable, without limit. */
export interface History<T> {
  readonly past: readonly T[];
  readonly present: T;
  /** Next first. */
  readonly future: readonly T[];
}

export const begin = <T>(present: T): History<T> => ({ past: [], present, future: [] });

/** A new value; what had been taken back is gone. The same value again changes nothing. */
export function record<T>(history: History<T>, value: T): History<T> {
  if (Object.is(value, history.present)) return history;
  return { past: [...history.past, history.present], present: value, future: [] };
}

/** One step back; the same history when there is none. */
export function undo<T>(history: History<T>): History<T> {
  if (history.past.length === 0) return history;
  return {
    past: history.past.slice(0, -1),
    present: history.past.at(-1)!,
    future: [history.present, ...history.future],
  };
}

/** One step forward again; the same history when there is none. */
export function redo<T>(history: History<T>): History<T> {
  if (history.future.length === 0) return history;
  return {
    past: [...history.past, history.present],
    present: history.future[0]!,
    future: history.future.slice(1),
  };
}
