import type { Dot, Ink, InkGlyph, InkShape, StaffParts, Thing, ThingKind } from '../types.ts';
import { isSign } from './fonts.ts';
import { bottomOf, topOf } from './systems.ts';

/** How far over and under its staves the things of a system stand, in spaces: notes on ledger lines. */
const FAR = 6;

type Sign = InkShape | InkGlyph;

/** Signs that stand at a system, from half the way to the next above to half the way below. */
export function signsAt(
  staves: readonly StaffParts[],
  ink: readonly Ink[],
  ceiling: number,
  floor: number,
): Sign[] {
  const { space, x0, x1 } = staves[0]!;
  const top = Math.max(topOf(staves[0]!) - FAR * space, ceiling);
  const bottom = Math.min(bottomOf(staves.at(-1)!) + FAR * space, floor);
  return ink.filter(isSign).filter(({ box }) => {
    const y = (box[1] + box[3]) / 2;
    return y >= top && y <= bottom && box[2] >= x0 - 2 * space && box[0] <= x1 + space;
  });
}

/** What a sign is, as far as its size and its name in the font say. */
export function kindOf({ box, ...sign }: Sign, space: number): ThingKind {
  const width = (box[2] - box[0]) / space;
  const height = (box[3] - box[1]) / space;
  const name = 'name' in sign ? sign.name : '';
  if (/^notehead/i.test(name)) return 'head';
  if (/^rest/i.test(name)) return 'rest';
  if (/^clef/i.test(name) || height > 4.2) return name === '' && width > 3 ? 'other' : 'clef';
  if (/^accidental|^flat|^sharp|^natural/i.test(name)) return 'accidental';
  if (/^timesig|^(zero|one|two|three|four|five|six|seven|eight|nine)$/i.test(name)) return 'time';
  if (name !== '') return 'other';
  if (width >= 0.95 && width <= 2.1 && height >= 0.8 && height <= 1.25) return 'head';
  if (width >= 0.9 && width <= 1.8 && height >= 0.35 && height <= 0.7) return 'rest';
  if (width >= 0.8 && width <= 1.4 && height >= 1.5 && height <= 1.95) return 'rest';
  return 'other';
}

export function thingsOf(signs: readonly Sign[], space: number): Thing[] {
  return signs.map((sign) => {
    const [x0, y0, x1, y1] = sign.box;
    return { kind: kindOf(sign, space), x0, x1, y0, y1 };
  });
}

/** Small and as wide as high. */
export function dotsOf(signs: readonly Sign[], space: number): Dot[] {
  return signs.flatMap(({ box: [x0, y0, x1, y1] }) => {
    const [width, height] = [x1 - x0, y1 - y0];
    const isRound = Math.abs(width - height) <= 0.12 * space;
    if (!isRound || width < 0.2 * space || width > 0.75 * space) return [];
    return [{ x: (x0 + x1) / 2, y: (y0 + y1) / 2, width }];
  });
}
