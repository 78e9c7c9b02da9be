import type { Span } from '../chart/types.ts';

/**
 * A span to be passed clean `streak` times in a row. A seam may run on from the last bar into the
 * first: then `to` ≥ the number of bars, and place p of the span is bar p mod n of the route.
 */
export interface Step extends Span {
  readonly streak: number;
  readonly kind: 'alone' | 'chain' | 'differing' | 'seam' | 'join';
}

/** What a ladder costs if every pass is clean. */
export interface Cost {
  readonly steps: number;
  readonly cleanPasses: number;
  /** Playing and gaps together, minutes. */
  readonly minutes: number;
}
