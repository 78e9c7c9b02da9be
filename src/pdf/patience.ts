import { TooSlow } from './errors.ts';

/** A time limit that begins anew with every sign of life. */
export interface Patience {
  /** Rejects with TooSlow once nothing has stirred for so long, or with the signal's reason when aborted. */
  readonly over: Promise<never>;
  /** A sign of life: the time begins anew. */
  stir(): void;
  /** Nothing is waited for. */
  rest(): void;
}

/** @param ms how long nothing may stir */
export function patience(ms: number, signal?: AbortSignal): Patience {
  let timer: ReturnType<typeof setTimeout> | undefined;
  let fail: (error: unknown) => void = () => undefined;
  const over = new Promise<never>((_, reject) => (fail = reject));
  over.catch(() => undefined);
  const rest = () => clearTimeout(timer);
  const stir = () => {
    rest();
    timer = setTimeout(() => fail(new TooSlow()), ms);
  };
  signal?.addEventListener('abort', () => fail(signal.reason), { once: true });
  return { over, stir, rest };
}
