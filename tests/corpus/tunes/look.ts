/** How thick and how far apart lines are drawn, where an engraver can be told. */
import { Random } from './random.ts';

/** Shares of what the engraver does by itself. */
export interface Look {
  readonly staffLine: number;
  readonly barLine: number;
  readonly thickLine: number;
  readonly stem: number;
  /** The gap between the strokes of a bar line. */
  readonly gap: number;
  /** That between them and the dots of a repeat. */
  readonly dots: number;
  /** Letters of sections stand over the middle of their bar line, so many spaces lower than usual; null: beside it. */
  readonly lowered: number | null;
}

export const PLAIN: Look = {
  staffLine: 1,
  barLine: 1,
  thickLine: 1,
  stem: 1,
  gap: 1,
  dots: 1,
  lowered: null,
};

/** Tunes of seeds below this one are drawn as engravers do it by themselves. */
const FIRST = 1000;

/** The look of a seed's tune; the same for ever. */
export function lookOf(seed: number): Look {
  if (seed < FIRST) return PLAIN;
  const random = new Random(seed * 104_729 + 7);
  const share = (least: number, most: number) => least * (most / least) ** random.next();
  // Most houses draw stems and bar lines about as thick as each other.
  const lines = share(0.4, 1.8);
  return {
    staffLine: share(0.5, 1.5),
    barLine: lines,
    thickLine: share(0.6, 1.4),
    stem: lines * share(0.7, 1.4),
    gap: share(0.5, 1.6),
    dots: share(0.5, 2),
    lowered: random.pick([null, null, 0, 0.4, 0.7, 0.9]),
  };
}
