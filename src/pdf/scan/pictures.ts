/** The pictures of a page that is made of nothing else: a scan, maybe in strips, maybe under invisible words. */
import { boxOf } from '../../core/find/rings.ts';
import { subPaths } from '../ink/path.ts';
import { boxUnder, identity, matrixFrom, times, UNIT, type Matrix } from '../ink/matrix.ts';
import { lightOf, type Operators } from '../ink/state.ts';
import type { OperatorNumbers } from '../ink/walk.ts';
import type { Decoded } from './decoded.ts';

type Box = readonly [x0: number, y0: number, x1: number, y1: number];

/** A picture as it is painted. */
export interface PaintedPicture {
  /** Its name in pdf.js's store, or itself where it stands in the page's content. */
  readonly source: string | Decoded;
  /** The unit square of user space to page points; along the page's axes. */
  readonly matrix: Matrix;
  /** It is a stencil through which this lightness (0 black – 1 white) is painted; null for a picture of its own. */
  readonly stencil: number | null;
}

interface State {
  readonly matrix: Matrix;
  /** What is painted shows in this box only. */
  readonly clip: Box;
  /** Of what is filled; NaN for patterns. */
  readonly light: number;
  /** Words are not shown. */
  readonly hidden: boolean;
}

/** Operators that neither paint nor change how a picture is painted. */
const HARMLESS = new Set(
  `dependency setLineWidth setLineCap setLineJoin setMiterLimit setDash setRenderingIntent setFlatness beginText
  endText setCharSpacing setWordSpacing setHScale setLeading setFont setTextRise moveText setLeadingMoveText
  setTextMatrix nextLine setStrokeRGBColor setStrokeColorN setStrokeTransparent markPoint markPointProps
  beginMarkedContent endMarkedContent endPath beginCompat endCompat`.split(/\s+/),
);
/** The same in an extended graphics state, and values of others that change nothing. */
const HARMLESS_KEYS = new Set(['LW', 'LC', 'LJ', 'ML', 'D', 'RI', 'FL', 'Font', 'CA']);
const PLAIN = new Map<unknown, unknown>([
  ['ca', 1],
  ['BM', 'source-over'],
  ['SMask', false],
]);
/** Modes in which words are not painted, nor clip (PDF 1.7 reference, table 5.3). */
const INVISIBLE = 3;
/** A clip may cut off so much of a picture and of the page, points; a picture lean so far. */
const SLACK = 0.25;

/**
 * The pictures that operators paint, in their order; null where they paint anything else, or pictures in a way that
 * takes a drawing: leaning, cut out, half transparent, on a layer.
 * @param matrix user space to page points
 * @param size of the page in points
 */
export function picturesIn(
  { fnArray, argsArray }: Operators,
  ops: OperatorNumbers,
  matrix: Matrix,
  size: { readonly width: number; readonly height: number },
): PaintedPicture[] | null {
  const names = new Map(Object.entries(ops).map(([name, number]) => [number, name]));
  const found: PaintedPicture[] = [];
  const stack: State[] = [];
  let state: State = { matrix, clip: [0, 0, size.width, size.height], light: 0, hidden: false };
  let clips = false;
  for (const [i, code] of fnArray.entries()) {
    const name = names.get(code) ?? '';
    const given = argsArray[i];
    const args = Array.isArray(given) ? (given as unknown[]) : [];
    if (HARMLESS.has(name)) continue;
    switch (name) {
      case 'save':
        stack.push(state);
        continue;
      case 'restore':
      case 'paintFormXObjectEnd':
        state = stack.pop() ?? state;
        continue;
      case 'transform':
        state = { ...state, matrix: times(state.matrix, matrixFrom(args) ?? identity) };
        continue;
      case 'paintFormXObjectBegin': {
        stack.push(state);
        state = { ...state, matrix: times(state.matrix, matrixFrom(args[0]) ?? identity) };
        const clip = args[1] ? clipped(state, boxUnder(state.matrix, args[1] as Box)) : state.clip;
        if (!isUpright(state.matrix)) return null;
        state = { ...state, clip };
        continue;
      }
      case 'setFillRGBColor':
        state = { ...state, light: lightOf(args) };
        continue;
      case 'setFillColorN':
      case 'setFillTransparent':
        state = { ...state, light: NaN };
        continue;
      case 'setTextRenderingMode':
        state = { ...state, hidden: args[0] === INVISIBLE };
        continue;
      case 'showText':
        if (!state.hidden) return null;
        continue;
      case 'beginMarkedContentProps':
        // A layer may be switched off.
        if (args[0] === 'OC') return null;
        continue;
      case 'setGState':
        if (!isPlain(args[0])) return null;
        continue;
      case 'clip':
      case 'eoClip':
        clips = true;
        continue;
      case 'constructPath': {
        const how = names.get(args[0] as number) ?? '';
        if (clips) {
          const box = rectangleOf(args[1], state.matrix);
          if (!box) return null;
          state = { ...state, clip: clipped(state, box) };
          clips = false;
        }
        // White on white paper is nothing.
        const isPaper = found.length === 0 && /^(eoF|f)ill$/.test(how) && state.light === 1;
        if (how !== 'endPath' && !isPaper) return null;
        continue;
      }
      case 'paintImageXObject':
      case 'paintInlineImageXObject':
      case 'paintImageMaskXObject': {
        const isStencil = name === 'paintImageMaskXObject';
        const source = isStencil ? (args[0] as { data?: unknown } | undefined)?.data : args[0];
        const named = typeof source === 'string' ? source : (args[0] as Decoded);
        if (!isWhole(state, size) || (isStencil && !Number.isFinite(state.light))) return null;
        found.push({ source: named, matrix: state.matrix, stencil: isStencil ? state.light : null });
        continue;
      }
      default:
        return null;
    }
  }
  return found;
}

function isPlain(entries: unknown): boolean {
  return (entries as (readonly [unknown, unknown])[]).every(
    ([key, value]) => HARMLESS_KEYS.has(key as string) || (PLAIN.has(key) && PLAIN.get(key) === value),
  );
}

/** A rectangle's sides go along the page's axes. */
const isUpright = ([a, b, c, d]: Matrix) => (b === 0 && c === 0) || (a === 0 && d === 0);

function clipped({ clip }: State, [x0, y0, x1, y1]: Box): Box {
  return [Math.max(clip[0], x0), Math.max(clip[1], y0), Math.min(clip[2], x1), Math.min(clip[3], y1)];
}

/** The box of a path that is one upright rectangle; null for any other. */
function rectangleOf(data: unknown, matrix: Matrix): Box | null {
  const list = Array.isArray(data) ? (data[0] as unknown) : data;
  if (!ArrayBuffer.isView(list)) return null;
  const paths = subPaths(list as unknown as ArrayLike<number>, matrix);
  const [path] = paths;
  if (!path || paths.length !== 1 || path.curved) return null;
  const { points } = path;
  const isRing =
    points.length === 8 || (points.length === 10 && points[8] === points[0] && points[9] === points[1]);
  const box = boxOf([points]);
  const isCorner = (value: number, low: number, high: number) =>
    Math.min(Math.abs(value - low), Math.abs(value - high)) < SLACK;
  const isBox = points.every((value, i) => isCorner(value, box[i % 2]!, box[(i % 2) + 2]!));
  return isRing && isBox ? box : null;
}

/** A picture is painted upright, and nothing of it that is on the page is cut off. */
function isWhole(
  { matrix, clip }: State,
  { width, height }: { readonly width: number; readonly height: number },
) {
  const [a, b, c, d] = matrix;
  const lies = Math.max(Math.abs(b), Math.abs(c)) < SLACK;
  const stands = Math.max(Math.abs(a), Math.abs(d)) < SLACK;
  const [x0, y0, x1, y1] = boxUnder(matrix, UNIT);
  return (
    (lies || stands) &&
    clip[0] <= Math.max(0, x0) + SLACK &&
    clip[1] <= Math.max(0, y0) + SLACK &&
    clip[2] >= Math.min(width, x1) - SLACK &&
    clip[3] >= Math.min(height, y1) - SLACK
  );
}
