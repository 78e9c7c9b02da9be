import { boxOf, isLong } from '../../core/find/rings.ts';
import type { PointBox } from '../../core/find/types.ts';
import { boxUnder, identity, type Matrix } from './matrix.ts';
import { linesIn } from './painted.ts';
import { movedRings, subPaths } from './path.ts';

type Rings = readonly (readonly number[])[];

const NOTHING: PointBox = [Infinity, Infinity, -Infinity, -Infinity];

/** Turned by quarters at most: boxes stay boxes. */
const isAlongAxes = (m: Matrix) => (m[1] === 0 && m[2] === 0) || (m[0] === 0 && m[3] === 0);
/** As much longer across as up and down. */
const isEven = (m: Matrix) => Math.abs(m[0]) === Math.abs(m[3]) && Math.abs(m[1]) === Math.abs(m[2]);

/**
 * How a letter of a font looks, in units of the font's size: read once, however often it is set. A page sets hundreds of
 * letters and asks for the outlines of few.
 */
export class LetterOutline {
  readonly #rings: Rings;
  readonly #box: PointBox;
  #linesHere: boolean | null = null;

  /** `data`: pdf.js's FontPath; null for a letter that paints nothing. */
  constructor(data: ArrayLike<number> | null) {
    this.#rings = data === null ? [] : subPaths(data, identity).map(({ points }) => points);
    this.#box = data === null ? NOTHING : boxOf(this.#rings);
  }

  get isBlank(): boolean {
    return this.#rings.length === 0;
  }

  /** Where it is set by `matrix`. */
  ringsUnder(matrix: Matrix): Rings {
    return movedRings(this.#rings, matrix);
  }

  boxUnder(matrix: Matrix): PointBox {
    return isAlongAxes(matrix) ? boxUnder(matrix, this.#box) : boxOf(this.ringsUnder(matrix));
  }

  /** A part of it may be a line: one is where the letter is set as it is, or it is set leaning or stretched. */
  mayBeLines(matrix: Matrix, box: PointBox): boolean {
    if (this.#rings.length === 1) return isLong(box);
    if (!isAlongAxes(matrix) || !isEven(matrix)) return this.#rings.length > 0;
    return (this.#linesHere ??= linesIn(this.#rings, 0).lines.length > 0);
  }
}
