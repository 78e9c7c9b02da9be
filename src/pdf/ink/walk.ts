import type { Ink } from '../../core/find/types.ts';
import { remembered } from '../../core/remembered.ts';
import { LetterOutline } from './letter.ts';
import { boxUnder, identity, matrixFrom, scaleOf, times, UNIT, type Matrix } from './matrix.ts';
import type { Outlines } from './outlines.ts';
import { areDots, filled, linesIn, shapesOf, stroked } from './painted.ts';
import { subPaths } from './path.ts';
import { lightOf, startState, type Font, type Operators, type State } from './state.ts';
import { drawnLetter, glyphOf, places, type Letter, type Place } from './text.ts';

/** pdf.js's numbers of operators, by name. */
export type OperatorNumbers = Readonly<Record<string, number>>;

export interface Things {
  /** A font by the name that setFont gives; null when it is not there. */
  font(name: string): Font | null;
  /** How a font's letter looks; null when that is not at hand. */
  letter(font: Font, fontChar: string): LetterOutline | null;
}

/** Paler than this is paper, not ink. */
const PALEST = 0.9;
/** Less paint than this cannot be seen. */
const THINNEST_PAINT = 0.1;
/** A page with more than this is a map or a drawing, and no music. */
const MOST_INK = 120_000;
/** Type 3 letters may be set in Type 3 letters; this deep is deep enough. */
const DEEPEST = 4;

/** What painting a path does with it, by the operator's name. */
const paintOf = remembered((how: string) => ({
  fills: /fill/i.test(how),
  strokes: /stroke/i.test(how),
  closes: /close/i.test(how),
}));

const BLANK = new LetterOutline(null);

type Args = readonly unknown[];
type Doing = (walk: Walk, args: Args, depth: number) => void;

const numberAt = (args: Args, i: number): number => {
  const value = args[i];
  return typeof value === 'number' ? value : 0;
};

/** Walks operator lists and gathers what they paint. */
export class Walk {
  readonly ink: Ink[] = [];
  #state: State;
  #stack: State[] = [];
  readonly #names: ReadonlyMap<number, string>;
  readonly #doings: readonly (Doing | undefined)[];

  /** What the operators do, by pdf.js's names; others neither paint nor change what is painted. */
  static readonly #named: Readonly<Record<string, Doing>> = {
    save: (walk) => walk.#save([]),
    beginGroup: (walk) => walk.#save([]),
    beginAnnotation: (walk, args) => walk.#save(args.slice(2, 4)),
    paintFormXObjectBegin: (walk, args) => walk.#save([args[0]]),
    restore: (walk) => walk.#restore(),
    endGroup: (walk) => walk.#restore(),
    endAnnotation: (walk) => walk.#restore(),
    paintFormXObjectEnd: (walk) => walk.#restore(),
    transform: (walk, args) => (walk.#state.matrix = times(walk.#state.matrix, matrixFrom(args) ?? identity)),
    setLineWidth: (walk, args) => (walk.#state.lineWidth = numberAt(args, 0)),
    setGState: (walk, args) => walk.#setMany(args[0]),
    setFillRGBColor: (walk, args) => (walk.#state.fillLight = lightOf(args)),
    setFillColorN: (walk, args) => (walk.#state.fillLight = lightOf(args)),
    setStrokeRGBColor: (walk, args) => (walk.#state.strokeLight = lightOf(args)),
    setStrokeColorN: (walk, args) => (walk.#state.strokeLight = lightOf(args)),
    setFillTransparent: (walk) => (walk.#state.fillLight = 1),
    setStrokeTransparent: (walk) => (walk.#state.strokeLight = 1),
    constructPath: (walk, args) => walk.#paint(numberAt(args, 0), args[1]),
    paintImageXObject: (walk) => walk.#image(),
    paintInlineImageXObject: (walk) => walk.#image(),
    paintImageMaskXObject: (walk) => walk.#image(),
    beginText: (walk) => walk.#place(identity),
    setFont: (walk, args) => walk.#setFont(args),
    setTextMatrix: (walk, args) => walk.#place(matrixFrom(args[0]) ?? matrixFrom(args) ?? identity),
    setCharSpacing: (walk, args) => (walk.#state.charSpacing = numberAt(args, 0)),
    setWordSpacing: (walk, args) => (walk.#state.wordSpacing = numberAt(args, 0)),
    setHScale: (walk, args) => (walk.#state.horizontal = numberAt(args, 0) / 100),
    setLeading: (walk, args) => (walk.#state.leading = -numberAt(args, 0)),
    setTextRise: (walk, args) => (walk.#state.rise = numberAt(args, 0)),
    setTextRenderingMode: (walk, args) => (walk.#state.mode = numberAt(args, 0)),
    moveText: (walk, args) => walk.#move(numberAt(args, 0), numberAt(args, 1)),
    setLeadingMoveText: (walk, args) => {
      walk.#state.leading = numberAt(args, 1);
      walk.#move(numberAt(args, 0), numberAt(args, 1));
    },
    nextLine: (walk) => walk.#move(0, walk.#state.leading),
    showText: (walk, args, depth) => {
      for (const place of places(walk.#state, Array.isArray(args[0]) ? (args[0] as unknown[]) : []))
        walk.#show(place, depth);
    },
  };

  constructor(
    ops: OperatorNumbers,
    private readonly things: Things,
    private readonly outlines: Outlines,
    matrix: Matrix,
  ) {
    const entries = Object.entries(ops);
    this.#names = new Map(entries.map(([name, number]) => [number, name]));
    const doings: (Doing | undefined)[] = [];
    for (const [name, number] of entries) doings[number] = Walk.#named[name];
    this.#doings = doings;
    this.#state = startState(matrix);
  }

  /** False when the page holds more than any page of music. */
  run({ fnArray, argsArray }: Operators, depth = 0): boolean {
    const stack = this.#stack;
    this.#stack = [];
    for (let i = 0; i < fnArray.length && this.ink.length <= MOST_INK; i++) {
      const args = argsArray[i];
      this.#doings[fnArray[i]!]?.(this, Array.isArray(args) ? (args as Args) : [], depth);
    }
    this.#stack = stack;
    return this.ink.length <= MOST_INK;
  }

  #restore(): void {
    this.#state = this.#stack.pop() ?? this.#state;
  }

  #save(inner: readonly unknown[]): void {
    this.#stack.push(this.#state);
    let matrix = this.#state.matrix;
    for (const value of inner) matrix = times(matrix, matrixFrom(value) ?? identity);
    this.#state = { ...this.#state, matrix };
  }

  /** Entries of an extended graphics state: pairs of key and value. */
  #setMany(entries: unknown): void {
    if (!Array.isArray(entries)) return;
    for (const entry of entries as unknown[]) {
      if (!Array.isArray(entry)) continue;
      const [key, value] = entry as [unknown, unknown];
      if (key === 'LW' && typeof value === 'number') this.#state.lineWidth = value;
      if (key === 'ca' && typeof value === 'number') this.#state.fillAlpha = value;
      if (key === 'CA' && typeof value === 'number') this.#state.strokeAlpha = value;
      if (key === 'Font' && Array.isArray(value)) this.#setFont(value as Args);
    }
  }

  #paint(code: number, data: unknown): void {
    const { fills, strokes, closes } = paintOf(this.#names.get(code) ?? '');
    const list = Array.isArray(data) ? (data[0] as unknown) : data;
    if ((!fills && !strokes) || !(ArrayBuffer.isView(list) || Array.isArray(list))) return;
    const { matrix, lineWidth, fillLight, strokeLight, fillAlpha, strokeAlpha } = this.#state;
    const paths = subPaths(list as unknown as ArrayLike<number>, matrix);
    if (fills && fillLight < PALEST && fillAlpha > THINNEST_PAINT)
      this.ink.push(...filled(paths, this.outlines, fillLight));
    if (strokes && strokeLight < PALEST && strokeAlpha > THINNEST_PAINT) {
      const closed = closes ? paths.map((path) => ({ ...path, closed: true })) : paths;
      this.ink.push(...stroked(closed, lineWidth * scaleOf(matrix), this.outlines, strokeLight));
    }
  }

  /** An image fills the unit square of user space. */
  #image(): void {
    const box = boxUnder(this.#state.matrix, UNIT);
    if (box.every(Number.isFinite)) this.ink.push({ kind: 'image', box });
  }

  #setFont(args: Args): void {
    this.#state.font = typeof args[0] === 'string' ? this.things.font(args[0]) : null;
    this.#state.fontSize = numberAt(args, 1);
  }

  #place(textMatrix: Matrix): void {
    const state = this.#state;
    state.textMatrix = textMatrix;
    state.x = state.y = state.lineX = state.lineY = 0;
  }

  #move(x: number, y: number): void {
    const state = this.#state;
    state.lineX += x;
    state.lineY += y;
    state.x = state.lineX;
    state.y = state.lineY;
  }

  #show(place: Place, depth: number): void {
    const { font, mode, fillLight, fillAlpha } = this.#state;
    if (font === null || mode === 3 || mode === 7) return;
    if (font.isType3Font === true) {
      this.#showDrawn(font, place, depth);
      return;
    }
    if (fillLight >= PALEST || fillAlpha <= THINNEST_PAINT) return;
    const outline = this.#outlineOf(font, place.letter);
    const glyph = glyphOf(font, place, outline, fillLight);
    if (glyph === null) return;
    this.ink.push(glyph);
    // Music fonts have glyphs for bar lines and staff lines: they are lines as well, and repeats have dots.
    if (!outline?.mayBeLines(place.matrix, glyph.box)) return;
    const { lines, rest } = linesIn(glyph.rings, fillLight);
    if (lines.length === 0 || !areDots(rest, lines)) return;
    this.ink.push(...lines);
    this.ink.push(...shapesOf(rest, this.outlines, fillLight));
  }

  /**
   * How a letter looks; null when that is not at hand. Nothing is painted for one that its font has not, though pdf.js
   * gives an outline for it: its own drawing leaves such a letter out, too.
   */
  #outlineOf(font: Font, { fontChar, isInFont }: Letter): LetterOutline | null {
    if (isInFont === false && font.missingFile !== true) return BLANK;
    return fontChar === undefined ? null : this.things.letter(font, fontChar);
  }

  /**
   * A letter of a Type 3 font is a small drawing: what it paints is painted. Where it is a letter of words it can be
   * read as well: browsers print fonts of a page's own so.
   */
  #showDrawn(font: Font, place: Place, depth: number): void {
    const drawing = font.charProcOperatorList?.[place.letter.operatorListId ?? ''];
    if (drawing === undefined || depth >= DEEPEST) return;
    const before = this.#state;
    const first = this.ink.length;
    const inner = times(place.matrix, matrixFrom(font.fontMatrix) ?? [0.001, 0, 0, 0.001, 0, 0]);
    this.#state = { ...before, matrix: inner, lineWidth: 1 };
    this.run(drawing, depth + 1);
    this.#state = before;
    const letter = drawnLetter(font, place, this.ink.slice(first), before.fillLight);
    if (letter) this.ink.push(letter);
  }
}
