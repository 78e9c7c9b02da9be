import type { BarLineKind } from '../types.ts';
import { ALONG, EDGES } from './answers.ts';
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

/** Edges and corners; all that stands above each other at a place; then what stands around it. */
export const SHAPES: readonly Shape[] = [
  { ...EDGES, from: 1, to: 6 },
  { ...ALONG, from: 6, to: 20, high: ROWS, across: 2 },
  { ...ALONG, from: 20, to: 20 },
  { ...ALONG, from: 20, to: 20, spread: 2 },
  { ...ALONG, from: 20, to: 20, spread: 4 },
  { ...ALONG, from: 20, to: 20, spread: 8 },
  { ...ALONG, from: 20, to: SAID.length, wide: 1 },
];

/** Columns of a straightened picture from one output to the next, and the column of the first one's middle. */
export const EVERY = 2 * POOL;
export const FIRST = POOL / 2;
