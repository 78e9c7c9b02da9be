import type { Ink, InkGlyph, InkShape, PointBox } from '../../core/find/types.ts';
import { boxUnder, matrixFrom, scaleOf, times, xAt, yAt, type Matrix } from './matrix.ts';
import { boxOf } from '../../core/find/rings.ts';
import type { LetterOutline } from './letter.ts';
import type { Font, State } from './state.ts';

/** A letter as pdf.js hands it to showText. */
export interface Letter {
  readonly fontChar?: string;
  readonly unicode?: string;
  readonly width?: number;
  readonly isSpace?: boolean;
  /** The font that the file brings along has it. */
  readonly isInFont?: boolean;
  readonly operatorListId?: string;
  readonly originalCharCode?: number;
}

/** Where a letter is set: maps its font's units of text space (1 = the font's size) to the page. */
export interface Place {
  readonly letter: Letter;
  /** Text space at the letter's origin, scaled by the font's size, to page points. */
  readonly matrix: Matrix;
  /** Advance in that space. */
  readonly advance: number;
}

/** The letters of a showText with their places; moves the state's text position on. */
export function places(state: State, letters: readonly unknown[]): Place[] {
  const { font, fontSize, charSpacing, wordSpacing, horizontal } = state;
  if (font === null || fontSize === 0) return [];
  const base = times(state.matrix, state.textMatrix);
  const unit = matrixFrom(font.fontMatrix)?.[0] ?? 0.001;
  const found: Place[] = [];
  for (const item of letters) {
    if (typeof item === 'number') {
      const shift = (-item * fontSize) / 1000;
      if (font.vertical === true) state.y += shift;
      else state.x += shift * horizontal;
      continue;
    }
    if (typeof item !== 'object' || item === null) continue;
    const letter = item as Letter;
    const width = letter.width ?? 0;
    const advance = width * (font.isType3Font === true ? unit : Math.abs(unit));
    const sized: Matrix = [fontSize * horizontal, 0, 0, fontSize, state.x, state.y + state.rise];
    found.push({ letter, matrix: times(base, sized), advance });
    const spacing = charSpacing + (letter.isSpace === true ? wordSpacing : 0);
    if (font.vertical === true) state.y -= advance * fontSize + spacing;
    else state.x += (advance * fontSize + spacing) * horizontal;
  }
  return found;
}

/** Name of a letter in its font, where the file's encoding says one. */
function nameOf(font: Font, letter: Letter): string {
  return font.differences?.[letter.originalCharCode ?? -1] ?? '';
}

/** Height over and depth under the base line of a letter whose outline is not known, in font sizes. */
const ABOVE = 0.7;
const BELOW = 0.2;

/** A letter as ink. `outline` is how it looks, null when that is not at hand. */
export function glyphOf(
  font: Font,
  place: Place,
  outline: LetterOutline | null,
  light: number,
): InkGlyph | null {
  const { letter, matrix, advance } = place;
  if (outline?.isBlank && letter.isSpace !== true) return null;
  const box =
    outline?.isBlank === false ? outline.boxUnder(matrix) : boxUnder(matrix, [0, -BELOW, advance, ABOVE]);
  if (!box.every(Number.isFinite)) return null;
  return new SetLetter(font, place, outline, box, light);
}

/** Of most letters the box is enough: how they look is worked out when it is asked for. */
class SetLetter implements InkGlyph {
  readonly kind = 'glyph';
  readonly x: number;
  readonly y: number;
  readonly advance: number;
  readonly size: number;
  readonly angle: number;
  readonly font: string;
  readonly unicode: string;
  readonly name: string;
  readonly outline: string;
  readonly #look: LetterOutline | null;
  readonly #matrix: Matrix;
  #rings: InkGlyph['rings'] | null = null;

  constructor(
    font: Font,
    { letter, matrix, advance }: Place,
    look: LetterOutline | null,
    readonly box: PointBox,
    readonly light: number,
  ) {
    this.x = xAt(matrix, 0, 0);
    this.y = yAt(matrix, 0, 0);
    this.advance = Math.hypot(xAt(matrix, advance, 0) - this.x, yAt(matrix, advance, 0) - this.y);
    this.size = scaleOf(matrix);
    this.angle = (Math.atan2(matrix[1], matrix[0]) * 180) / Math.PI;
    this.font = font.name ?? '';
    this.unicode = letter.unicode ?? '';
    this.name = nameOf(font, letter);
    this.outline = `${font.loadedName ?? this.font}:${letter.fontChar ?? ''}:${letter.originalCharCode ?? ''}`;
    this.#look = look;
    this.#matrix = matrix;
  }

  get rings(): InkGlyph['rings'] {
    return (this.#rings ??= this.#look === null ? [] : this.#look.ringsUnder(this.#matrix));
  }
}

/** Letters, digits and marks as words have them; signs of music fonts stand in the Private Use Area. */
const WORDS = /^[\p{L}\p{N}\p{P}\p{S}]+$/u;
/** A letter of words is at most so many font sizes wide and high; a drawing that is larger is none. */
const LARGEST = 2;

/**
 * A letter of a Type 3 font that has been painted as `painted`, as one that can be read; null when the file says no
 * text for it or it is no letter of words. Such a font has no names for its letters.
 */
export function drawnLetter(
  font: Font,
  place: Place,
  painted: readonly Ink[],
  light: number,
): InkGlyph | null {
  const { unicode = '' } = place.letter;
  const shapes = painted.filter((ink): ink is InkShape => ink.kind === 'shape');
  if (!WORDS.test(unicode) || shapes.length === 0) return null;
  const glyph = glyphOf(font, place, null, light);
  if (!glyph) return null;
  const rings = shapes.flatMap((shape) => shape.rings);
  const box = boxOf(rings);
  const most = LARGEST * glyph.size;
  if (box[2] - box[0] > most || box[3] - box[1] > most) return null;
  return { ...glyph, box, rings, outline: shapes.map(({ outline }) => outline).join('+'), name: '' };
}
