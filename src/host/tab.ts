/** What this tab remembers until it is closed: how a page was looked at, nothing that matters. */
export function recall(name: string): unknown {
  try {
    return JSON.parse(sessionStorage.getItem(name) ?? 'null');
  } catch {
    // Not allowed, or not ours: then nothing is remembered.
    return null;
  }
}

/** Remembers a value for `recall`; quietly not where the browser keeps nothing. */
export function remember(name: string, value: unknown): void {
  try {
    sessionStorage.setItem(name, JSON.stringify(value));
  } catch {
    // As above.
  }
}
