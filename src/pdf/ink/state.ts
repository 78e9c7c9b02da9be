import { identity, type Matrix } from './matrix.ts';

/** The part of pdf.js's font object that is read here. */
export interface Font {
  /** Without the tag of a subset, once it is read. */
  readonly name?: string;
  readonly loadedName?: string;
  readonly fontMatrix?: unknown;
  readonly isType3Font?: boolean;
  /** The file does not bring it along: letters of another font are shown. */
  readonly missingFile?: boolean;
  readonly vertical?: boolean;
  readonly differences?: readonly (string | undefined)[];
  readonly charProcOperatorList?: Readonly<Record<string, Operators | undefined>>;
}

/** What is read of a pdf.js font, once: it decodes its own properties again each time that they are asked for. */
export function fontFrom(font: Font): Font {
  const { loadedName, fontMatrix, isType3Font, missingFile, vertical } = font;
  const { differences, charProcOperatorList } = font;
  return {
    // Without the tag of a subset ("ABCDEF+Emmentaler-20").
    name: (font.name ?? '').replace(/^[A-Z]{6}\+/, ''),
    loadedName,
    fontMatrix,
    isType3Font,
    missingFile,
    vertical,
    differences,
    charProcOperatorList,
  };
}

/** An operator list as getOperatorList gives it. */
export interface Operators {
  readonly fnArray: readonly number[];
  readonly argsArray: readonly unknown[];
}

/** The graphics state as far as it tells what is drawn and where. */
export interface State {
  matrix: Matrix;
  lineWidth: number;
  fillLight: number;
  strokeLight: number;
  fillAlpha: number;
  strokeAlpha: number;
  font: Font | null;
  fontSize: number;
  charSpacing: number;
  wordSpacing: number;
  horizontal: number;
  leading: number;
  rise: number;
  /** Mode 3 and 7 paint nothing (PDF 1.7 reference, table 5.3). */
  mode: number;
  textMatrix: Matrix;
  x: number;
  y: number;
  lineX: number;
  lineY: number;
}

export function startState(matrix: Matrix): State {
  return {
    matrix,
    lineWidth: 1,
    fillLight: 0,
    strokeLight: 0,
    fillAlpha: 1,
    strokeAlpha: 1,
    font: null,
    fontSize: 0,
    charSpacing: 0,
    wordSpacing: 0,
    horizontal: 1,
    leading: 0,
    rise: 0,
    mode: 0,
    textMatrix: identity,
    x: 0,
    y: 0,
    lineX: 0,
    lineY: 0,
  };
}

/** Lightness of a colour as pdf.js gives it ("#rrggbb", or three numbers to 255): 0 black – 1 white. */
export function lightOf(args: unknown): number {
  const list = Array.isArray(args) ? (args as unknown[]) : [args];
  const hex = typeof list[0] === 'string' ? /^#([0-9a-f]{6})/i.exec(list[0])?.[1] : undefined;
  const rgb =
    hex === undefined
      ? list.slice(0, 3).map(Number)
      : [0, 2, 4].map((i) => Number.parseInt(hex.slice(i, i + 2), 16));
  if (rgb.length < 3 || !rgb.every(Number.isFinite)) return 0;
  return (0.299 * rgb[0]! + 0.587 * rgb[1]! + 0.114 * rgb[2]!) / 255;
}
