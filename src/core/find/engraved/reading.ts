import type { BarParts } from '../bars/bars.ts';
import type { FoundBar } from '../types.ts';
import type { Meter } from '../../chart/types.ts';
import type { Sign } from './things.ts';
import type { Words } from './words.ts';
import { inBar, isInStaff, isPlayed, middleX, middleY, type SystemInk } from './written.ts';

const WORDS = ['zero', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine'];

/** The digit that a sign of a music font is; −1 when it is none. */
function digitOf({ name, kind }: Sign): number {
  if (kind !== 'time') return -1;
  const digit = /^timeSig(\d)$/.exec(name)?.[1];
  return digit === undefined ? WORDS.indexOf(name) : Number(digit);
}

function numberOf(signs: readonly Sign[]): number {
  const digits = [...signs].sort((a, b) => middleX(a) - middleX(b)).map(digitOf);
  return digits.length === 0 || digits.length > 2 ? 0 : Number(digits.join(''));
}

const meterOf = (beats: number, value: number): Meter | null =>
  beats > 0 && [1, 2, 4, 8, 16].includes(value) ? { beats, value } : null;

/** A digit of a meter is two spaces high; one of a word font may be a little smaller. */
const DIGIT = 1.3;

/** A meter in a font of words: large digits one over the other between the lines of a staff. */
function meterInWords({ letters, staves }: SystemInk, bar: BarParts, from: number): Meter | null {
  const { lines, space } = staves[0]!;
  const [top, bottom] = [lines[0]!, lines.at(-1)!];
  const digits = letters.filter(({ unicode, box: [x0, y0, x1, y1] }) => {
    const isHere = (x0 + x1) / 2 > from && (x0 + x1) / 2 < bar.x1;
    const isIn = y0 > top - 0.7 * space && y1 < bottom + 0.7 * space;
    return /^\d$/.test(unicode) && isHere && isIn && y1 - y0 > DIGIT * space;
  });
  const row = (side: 1 | -1) =>
    digits
      .filter(({ box }) => side * ((box[1] + box[3]) / 2 - (top + bottom) / 2) > 0)
      .sort((a, b) => a.x - b.x);
  const [upper, lower] = [row(-1), row(1)];
  if (upper.length === 0 || lower.length === 0 || Math.abs(upper[0]!.x - lower[0]!.x) > 1.5 * space)
    return null;
  const said = (row: typeof digits) => Number(row.map(({ unicode }) => unicode).join(''));
  return upper.length > 2 || lower.length > 2 ? null : meterOf(said(upper), said(lower));
}

/** So far from the middle of a C, at most, is the stroke that cuts it, and so far it reaches beyond; in spaces. */
const CUT_OFF = 0.5;
const CUT_BEYOND = 0.1;

/** Some engravers draw the sign of cut time as a C and a stroke through it. */
function isCut(common: Sign, { lines, staves }: SystemInk): boolean {
  const { space } = staves[0]!;
  const [, y0, , y1] = common.ink.box;
  return lines.upright.some(
    ({ at, from, to }) =>
      Math.abs(at - middleX(common)) <= CUT_OFF * space &&
      from < y0 - CUT_BEYOND * space &&
      to > y1 + CUT_BEYOND * space,
  );
}

/** The meter that is printed in a bar; null when there is none, or none that can be read. */
export function meterIn(system: SystemInk, bar: BarParts, from: number): Meter | null {
  const { signs, staves } = system;
  const { lines, space } = staves[0]!;
  const [top, bottom] = [lines[0]!, lines.at(-1)!];
  const here = signs.filter(
    (sign) =>
      sign.kind === 'time' &&
      middleX(sign) > from &&
      middleX(sign) < bar.x1 &&
      middleY(sign) > top - 0.5 * space &&
      middleY(sign) < bottom + 0.5 * space,
  );
  const common = here.find(({ name }) => /^timeSigCommon|timesig\.C44/.test(name));
  if (common) return isCut(common, system) ? { beats: 2, value: 2 } : { beats: 4, value: 4 };
  if (here.some(({ name }) => /^timeSigCut|timesig\.C22/.test(name))) return { beats: 2, value: 2 };
  const middle = (top + bottom) / 2;
  const digits = here.filter((sign) => digitOf(sign) >= 0);
  const beats = numberOf(digits.filter((sign) => middleY(sign) < middle));
  const value = numberOf(digits.filter((sign) => middleY(sign) > middle));
  return meterOf(beats, value) ?? meterInWords(system, bar, from);
}

/** A number is set to the middle of its block rest, so close over its staff; in spaces. */
const OVER_REST = 1;
const HIGHEST_COUNT = 4;

/** Words that say how many bars a block rest in this bar stands for. */
export function countsIn({ signs, staves, words }: SystemInk, bar: BarParts): Words[] {
  const { lines, space } = staves[0]!;
  const rests = signs.filter((sign) => sign.kind === 'multi-rest' && inBar(sign, bar));
  return words.filter(({ text, box }) => {
    const high = lines[0]! - box[3];
    if (!/^\d{1,3}$/.test(text) || high < -0.5 * space || high > HIGHEST_COUNT * space) return false;
    return rests.some((rest) => Math.abs((box[0] + box[2]) / 2 - middleX(rest)) <= OVER_REST * space);
  });
}

/** What a bar says of time: its meter, its silence, how many bars of rest it stands for. */
export function timeOf(system: SystemInk, bar: BarParts, from: number): Partial<FoundBar> {
  const meter = meterIn(system, bar, from);
  const here = system.signs.filter((sign) => inBar(sign, bar));
  const heads = here.filter(({ kind }) => kind === 'head');
  const above = here.filter(
    (sign) =>
      digitOf(sign) >= 0 && !isInStaff(sign, system.staves) && middleY(sign) < system.staves[0]!.lines[0]!,
  );
  const inWords = Number(countsIn(system, bar)[0]?.text ?? 0);
  const rests = heads.length === 0 ? numberOf(above) || inWords : 0;
  const silent = heads.length === 0 && (rests > 0 || here.some(isPlayed));
  return {
    ...(meter === null ? {} : { meter }),
    ...(rests > 1 ? { restBars: rests } : {}),
    ...(silent ? { silent: true } : {}),
  };
}
