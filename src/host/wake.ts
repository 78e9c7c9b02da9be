/**
 * Keeps the screen from going dark until `signal` aborts. `onChange(true)` when the lock is held,
 * `onChange(false)` when the browser refuses it or takes it away; it is asked for again as soon as
 * the page is seen again.
 */
export function holdWake(signal: AbortSignal, onChange: (held: boolean) => void): void {
  let lock: WakeLockSentinel | null = null;
  let asking = false;
  // Absent in some browsers and in insecure contexts.
  const wake = (navigator as Partial<Navigator>).wakeLock;

  const ask = async () => {
    if (signal.aborted || asking || lock || document.visibilityState !== 'visible') return;
    asking = true;
    try {
      if (!wake) throw new Error('No wake lock here.');
      const got = await wake.request('screen');
      if (isOver()) {
        await got.release();
        return;
      }
      lock = got;
      got.addEventListener('release', () => {
        lock = null;
        if (!signal.aborted) onChange(false);
      });
      onChange(true);
    } catch {
      if (!isOver()) onChange(false);
    } finally {
      asking = false;
    }
  };
  /** As a function, since it changes while the lock is awaited. */
  const isOver = () => signal.aborted;

  const seen = () => {
    void ask();
  };
  document.addEventListener('visibilitychange', seen);
  signal.addEventListener('abort', () => {
    document.removeEventListener('visibilitychange', seen);
    lock?.release().catch(() => undefined);
  });
  void ask();
}
