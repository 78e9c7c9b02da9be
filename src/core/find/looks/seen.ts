import { boundariesOf } from '../bars/boundaries.ts';
import type { SeenLine, SystemParts } from '../types.ts';
import { lookOf, type Traits } from './traits.ts';

/** An upright stroke with its looks, in the unit of a system's parts. */
export interface Upright {
  readonly x: number;
  readonly traits: Traits;
}

/** Middles of a stroke and of the same stroke as it was taken lie this close, in spaces. */
const SAME = 0.5;

/**
 * The uprights of a system as they are kept: those that became bar lines stand where their boundary does.
 * @param place of a column in fractions of the page's width
 */
export function seenLines(
  parts: SystemParts,
  uprights: readonly Upright[],
  place: (x: number) => number,
): SeenLine[] {
  const { space } = parts.staves[0]!;
  const boundaries = boundariesOf(parts);
  return uprights.map(({ x, traits }) => {
    const stroke = parts.strokes.find(({ x0, x1 }) => x > x0 - SAME * space && x < x1 + SAME * space);
    const boundary = boundaries.find(({ x0, x1 }) => x > x0 - SAME * space && x < x1 + SAME * space);
    const line = { x: place(stroke && boundary ? boundary.x : x), look: lookOf(traits) };
    return stroke && boundary ? { ...line, kind: boundary.kind } : line;
  });
}
