import type { BarLineKind } from '../types.ts';
import type { Shape } from './net.ts';
import { POOL } from './strip.ts';

/** What the net may say of a place, in the order of its outputs; "none": no bar line. */
export const SAID: readonly BarLineKind[] = [
  'none',
  'single',
  'double',
  'final',
  'repeat-start',
  'repeat-end',
  'repeat-both',
];

/** Rows of a strip after the first layer. */
const ROWS = 23;
const plain = { high: 1, wide: 5, down: 1, across: 1, spread: 1 };

/** Edges and corners; all that stands above each other at a place; then what stands around it. */
export const SHAPES: readonly Shape[] = [
  { ...plain, from: 1, to: 6, high: 3, wide: 3, down: 2 },
  { ...plain, from: 6, to: 20, high: ROWS, across: 2 },
  { ...plain, from: 20, to: 20 },
  { ...plain, from: 20, to: 20, spread: 2 },
  { ...plain, from: 20, to: 20, spread: 4 },
  { ...plain, from: 20, to: 20, spread: 8 },
  { ...plain, from: 20, to: SAID.length, wide: 1 },
];

/** Columns of a straightened picture from one output to the next, and the column of the first one's middle. */
export const EVERY = 2 * POOL;
export const FIRST = POOL / 2;
