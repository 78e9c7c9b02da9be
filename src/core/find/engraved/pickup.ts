import { onStaff, staffAt, type BarParts } from '../bars/bars.ts';
import type { FoundBar } from '../types.ts';
import { dotted, mayBeRest, quartersOf, RESTS } from './lengths.ts';
import { timeOf } from './reading.ts';
import { inBar, middleY, type SystemInk } from './written.ts';

/** The first bar of a tune is a pickup when its notes do not fill the meter. */
export function pickupOf(ink: SystemInk): Partial<FoundBar> {
  const [first, second] = ink.bars;
  if (first === undefined || second === undefined) return {};
  const { meter } = timeOf(ink, first, ink.staves[0]!.x0);
  const full = meter === undefined ? null : (meter.beats * 4) / meter.value;
  const read = quartersOf(ink, first);
  // Where the second bar does not seem to fill the meter either, notes were misread.
  const filled = quartersOf(ink, second);
  if (read !== null && full !== null && (filled === null || filled === full))
    return read < full ? { pickup: true, pickupBeats: (read * meter!.value) / 4 } : {};
  const most = mostQuarters(ink, first);
  return most > 0 && most < (full ?? 3) && most < mostQuarters(ink, second) ? { pickup: true } : {};
}

/** Quarters that another rest than the known ones fills: any bar. */
const ANY = 8;

/**
 * Quarters that the notes of a bar can fill at most, on the staff where that is least: a hollow head may be
 * a whole note. 0 when nothing is played.
 */
function mostQuarters({ signs, staves }: SystemInk, bar: BarParts): number {
  const sums = staves.map((staff, i) => {
    const own = onStaff(bar, i);
    const here = signs.filter((sign) => inBar(sign, own) && staffAt(staves, middleY(sign)) === i);
    return here.reduce((sum, sign) => {
      if (mayBeRest(sign, staves, staff.space)) return sum + ANY;
      if (sign.kind !== 'rest' && sign.kind !== 'head') return sum;
      const plain =
        sign.kind === 'rest'
          ? (RESTS.find(([pattern]) => pattern.test(sign.name))?.[1] ?? ANY)
          : sign.ink.rings.length > 1
            ? 4
            : 1;
      return sum + dotted(plain, sign, signs, staff.space);
    }, 0);
  });
  const least = Math.min(...sums.filter((sum) => sum > 0));
  return Number.isFinite(least) ? least : 0;
}
