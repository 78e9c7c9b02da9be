import type { PointBox, SignKind } from '../types.ts';
import type { Sign } from './things.ts';
import type { Words } from './words.ts';

/** A bar as signs see it, in page points. */
export interface BarPlace {
  /** Index on the page. */
  readonly index: number;
  readonly x0: number;
  readonly x1: number;
  /** Its bar line can end a part of the tune: a double or final one, or a repeat's. */
  readonly ends?: boolean;
  /** Left end and middle of the last note or rest on the upper staff; absent when it has none. */
  readonly last?: readonly [left: number, middle: number];
  /** Middle of the first one. */
  readonly first?: number;
}

/** A sign before it has its page and its box in fractions. */
export interface SignHere {
  readonly kind: SignKind;
  readonly box: PointBox;
  readonly text?: string;
  readonly al?: 'fine' | 'coda';
  readonly bar: number;
  readonly sure: number;
}

/** Words of jumps, as they are written in several languages' common spellings. */
const READINGS: readonly (readonly [RegExp, SignKind])[] = [
  [/^(d\s?\.?\s?c\b|da\s?capo)/i, 'dc'],
  [/^(d\s?\.?\s?s\b|dal\s?segno)/i, 'ds'],
  [/^(to|al|alla)\s+(the\s+)?coda/i, 'to-coda'],
  [/^fine\b\.?$/i, 'fine'],
  [/^coda$/i, 'coda'],
];

/** What words say of the form; null for chord symbols, lyrics and everything else. */
export function readingOf(text: string): { kind: SignKind; al?: 'fine' | 'coda' } | null {
  const plain = text.replace(/\s+/g, ' ').trim();
  const kind = READINGS.find(([pattern]) => pattern.test(plain))?.[1];
  if (kind === undefined) return null;
  if (kind !== 'dc' && kind !== 'ds') return { kind };
  if (/fine/i.test(plain)) return { kind, al: 'fine' };
  return /coda|⊕|\u{e048}/iu.test(plain) ? { kind, al: 'coda' } : { kind };
}

/** Words that a coda sign behind them completes. */
const OPEN = /(^|[\s.])(to|al|alla)$/i;

/** They say something of the form, whether they are read or not. */
export const isOfForm = (text: string) => readingOf(text) !== null || OPEN.test(text.trim());

/**
 * The box that tells which system words belong to. Words of the form that stand right over a chord symbol, closer to
 * it than to the system over them, go with the chord symbol; systems end at `bottoms`.
 */
export function footOf(one: Words, words: readonly Words[], bottoms: readonly number[]): PointBox {
  if (!isOfForm(one.text)) return one.box;
  const [x0, y0, x1, y1] = one.box;
  const most = Math.min(one.size, ...bottoms.filter((bottom) => bottom <= y0).map((bottom) => y0 - bottom));
  const under = words.find(({ box }) => box[0] < x1 && x0 < box[2] && box[1] >= y1 && box[1] - y1 < most);
  return under?.box ?? one.box;
}

/** Signs of one system: those that say something at a bar's start, and those at its end. */
export function signsOf(
  words: readonly Words[],
  signs: readonly Sign[],
  bars: readonly BarPlace[],
  space: number,
): SignHere[] {
  if (bars.length === 0) return [];
  const found: SignHere[] = [];
  for (const one of words) {
    const { text, box, boxed, size } = one;
    const reading = readingOf(text);
    if (reading && reading.kind !== 'coda')
      found.push({
        ...reading,
        box,
        text,
        bar: barOf(reading.kind, phraseOf(one), bars, space),
        sure: 0.97,
      });
    else if (reading) found.push({ ...reading, box, text, bar: startingAt(box, bars, space), sure: 0.9 });
    else if (boxed && text.length <= 16 && /[\p{L}\d]/u.test(text) && size > 0)
      found.push({ kind: 'section', box, text, bar: startingAt(box, bars, space), sure: 0.95 });
  }
  for (const { name, ink } of signs) {
    const isSegno = /segno/i.test(name);
    if (!isSegno && !/coda/i.test(name)) continue;
    const { box } = ink;
    if (!isSegno && readAsWord(box, words, found, bars, space)) continue;
    const besides = found.some(
      (one) =>
        one.text !== undefined &&
        (one.kind === 'to-coda' || one.kind === 'coda') &&
        near(one.box, box, 4 * space),
    );
    if (!isSegno && besides) continue;
    found.push({ kind: isSegno ? 'segno' : 'coda', box, bar: startingAt(box, bars, space), sure: 0.95 });
  }
  return found;
}

/** Words that are read together stand so close, in spaces, that no other fits between. */
const BEHIND = 3;
const follows = (a: PointBox, b: PointBox, space: number) =>
  b[0] > a[0] && b[0] - a[2] < BEHIND * space && b[1] < a[3] && a[1] < b[3];

/**
 * A coda sign that stands for its word: behind "To", and behind "al" in what a jump asks for. The sign is then no coda
 * of its own; `found` is told what it says.
 */
function readAsWord(
  box: PointBox,
  words: readonly Words[],
  found: SignHere[],
  bars: readonly BarPlace[],
  space: number,
): boolean {
  const before = words.find((one) => OPEN.test(one.text.trim()) && follows(one.box, box, space));
  if (!before) return false;
  const withSign = (from: PointBox): PointBox => [
    from[0],
    Math.min(from[1], box[1]),
    box[2],
    Math.max(from[3], box[3]),
  ];
  if (/^to$/i.test(before.text.trim())) {
    const whole = withSign(before.box);
    const bar = barOf('to-coda', whole, bars, space);
    found.push({ kind: 'to-coda', box: whole, text: before.text, bar, sure: 0.95 });
    return true;
  }
  const at = found.findIndex(
    ({ kind, box: jump }) =>
      (kind === 'dc' || kind === 'ds') && (jump === before.box || follows(jump, before.box, space)),
  );
  const jump = found[at];
  if (!jump) return false;
  const whole = withSign(jump.box);
  found[at] = { ...jump, al: 'coda', box: whole, bar: barOf(jump.kind, whole, bars, space) };
  return true;
}

const near = (a: PointBox, b: PointBox, gap: number) =>
  a[0] <= b[2] + gap && b[0] <= a[2] + gap && a[1] <= b[3] + gap && b[1] <= a[3] + gap;

/** All in spaces: what is set over the first note of a bar has its middle so near; a long sign says little by its middle. */
const ON_NOTE = 0.5;
const FAR = 2;

/** The bar whose left bar line is nearest to a sign's middle, but no further than `far` spaces from where it begins. */
export function startingAt(box: PointBox, bars: readonly BarPlace[], space: number, far = FAR): number {
  const middle = (box[0] + box[2]) / 2;
  const set = bars.find(({ first }) => first !== undefined && Math.abs(first - middle) <= ON_NOTE * space);
  if (set) return set.index;
  const x = Math.min(middle, box[0] + far * space);
  const inside = bars.find((bar) => x >= bar.x0 && x < bar.x1);
  const nearest = [...bars].sort((a, b) => Math.abs(a.x0 - x) - Math.abs(b.x0 - x))[0]!;
  // Well inside a bar and far from its end: it is that bar's, if nothing nearer begins.
  if (inside && inside.x1 - x > x - inside.x0) return inside.index;
  return nearest.index;
}

/** The box of the words of the form alone: a chord symbol may stand so close behind them that it seems to go on. */
function phraseOf({ text, letters, box }: Words): PointBox {
  const end = [...text.matchAll(/coda|fine|segno|capo|[cs]\./gi)].at(-1);
  if (end === undefined) return box;
  let left = text.slice(0, end.index + end[0].length).replace(/\s/g, '').length;
  const own = letters.filter((letter) => {
    left -= letter.text.trim().length;
    return left + letter.text.trim().length > 0;
  });
  return own.length === 0 ? box : [box[0], box[1], Math.max(...own.map((letter) => letter.box[2])), box[3]];
}

/**
 * The one bar under the words of a Fine or a jump at whose end a part ends; null: none or several, and for other signs.
 * Common practice, no source.
 */
export function partEndUnder(
  kind: SignKind,
  box: PointBox,
  bars: readonly BarPlace[],
  space: number,
): number | null {
  if (kind !== 'fine' && kind !== 'dc' && kind !== 'ds') return null;
  const ending = bars.filter(({ x0, x1, ends }) => ends === true && box[2] > x0 && box[0] < x1 + SET * space);
  return ending.length === 1 ? ending[0]!.index : null;
}

const barOf = (kind: SignKind, box: PointBox, bars: readonly BarPlace[], space: number): number =>
  partEndUnder(kind, box, bars, space) ?? endingBarOf(box, bars, space);

/** Words that are set to a place stand within this many spaces of it. */
const SET = 0.5;

/**
 * The bar at whose end words are meant. Engravers set their end or start to the bar line, or their start or middle to
 * that of the bar's last note: the one that fits best. Otherwise the bar that they end near, or stand over.
 */
export function endingBarOf(box: PointBox, bars: readonly BarPlace[], space: number): number {
  const middle = (box[0] + box[2]) / 2;
  const fits = bars.flatMap(({ index, x1, last }) =>
    [box[0] - x1, box[2] - x1, ...(last === undefined ? [] : [box[0] - last[0], middle - last[1]])].map(
      (off) => ({ index, off: Math.abs(off) }),
    ),
  );
  const best = fits.reduce((a, b) => (b.off < a.off ? b : a));
  if (best.off <= SET * space) return best.index;
  const nearest = [...bars].sort((a, b) => Math.abs(a.x1 - box[2]) - Math.abs(b.x1 - box[2]))[0]!;
  if (Math.abs(nearest.x1 - box[2]) <= 2.5 * space) return nearest.index;
  // What is set across a bar line speaks of the bar before it.
  const crossed = bars.find(({ x1 }) => box[0] < x1 - SET * space && box[2] > x1 + SET * space);
  const inside = bars.find((bar) => middle >= bar.x0 && middle < bar.x1);
  return (crossed ?? inside ?? nearest).index;
}
