import { boxOf } from '../rings.ts';
import shapes from './shapes.json' with { type: 'json' };

/** Cells of the grid that a sign is laid into. */
export const COLUMNS = 8;
export const ROWS = 10;
/** Lines of sight in each row of cells. */
const SCANS = 3;

type Rings = readonly (readonly number[])[];

/** How a sign looks: the share of ink in each cell of a grid over its box, 0–1, row by row. */
export function lookOf(rings: Rings): number[] {
  const [x0, y0, x1, y1] = boxOf(rings);
  const [width, height] = [x1 - x0, y1 - y0];
  const cells = new Array<number>(COLUMNS * ROWS).fill(0);
  if (!(width > 0 && height > 0)) return cells;
  for (let scan = 0; scan < ROWS * SCANS; scan++) {
    const y = y0 + ((scan + 0.5) / (ROWS * SCANS)) * height;
    const cuts = crossings(rings, y).map((x) => ((x - x0) / width) * COLUMNS);
    for (let k = 0; k + 1 < cuts.length; k += 2)
      for (
        let column = Math.max(0, Math.floor(cuts[k]!));
        column < Math.min(COLUMNS, cuts[k + 1]!);
        column++
      ) {
        const covered = Math.min(column + 1, cuts[k + 1]!) - Math.max(column, cuts[k]!);
        const cell = Math.floor(scan / SCANS) * COLUMNS + column;
        cells[cell] = cells[cell]! + Math.max(0, covered) / SCANS;
      }
  }
  return cells;
}

/** Where a horizontal line goes in and out of the rings (even-odd rule), left to right. */
export function crossings(rings: Rings, y: number): number[] {
  const found: number[] = [];
  for (const ring of rings)
    for (let i = 0; i < ring.length; i += 2) {
      const j = (i + 2) % ring.length;
      const ay = ring[i + 1]!;
      const by = ring[j + 1]!;
      if (ay > y !== by > y) found.push(ring[i]! + ((y - ay) / (by - ay)) * (ring[j]! - ring[i]!));
    }
  // Mostly there are two.
  return found.length > 2 || found[0]! > found[1]! ? found.sort((a, b) => a - b) : found;
}

/** A known sign: its name in SMuFL, width and height in staff spaces, its look as `lookOf` gives it. */
interface Known {
  readonly name: string;
  readonly width: number;
  readonly height: number;
  readonly look: readonly number[];
}

/** The file has looks in ninths, a digit a cell; they are read when the first sign is asked for. */
let read: readonly Known[] | null = null;
const knownSigns = (): readonly Known[] =>
  (read ??= shapes.map((one) => ({ ...one, look: Array.from(one.look, (ninths) => Number(ninths) / 9) })));

/** Mean difference of two looks at which they are the same sign. */
const ALIKE = 0.16;
/** Signs in smaller and larger print; those of the form are set among words, too. */
const SMALLEST = 0.55;
const AMONG_WORDS = 0.4;
const LARGEST = 1.6;
const isOfForm = (name: string) => name === 'coda' || name === 'segno';

/** SMuFL's name of a sign by its looks; empty when it is like none. Width and height in staff spaces. */
export function nameByLook(rings: Rings, width: number, height: number): string {
  const look = lookOf(rings);
  let best = '';
  let least = ALIKE;
  for (const one of knownSigns()) {
    const size = height / one.height;
    if (size < (isOfForm(one.name) ? AMONG_WORDS : SMALLEST) || size > LARGEST) continue;
    const shape = width / height / (one.width / one.height);
    if (shape < 0.75 || shape > 1.33) continue;
    let difference = 0;
    for (let i = 0; i < look.length; i++) difference += Math.abs(look[i]! - one.look[i]!);
    difference /= look.length;
    if (difference < least) {
      least = difference;
      best = one.name;
    }
  }
  return best;
}
