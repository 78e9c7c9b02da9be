import type { BarParts } from '../bars/bars.ts';
import type { Barline } from './barlines.ts';
import type { SaidMeter } from './meter.ts';
import type { Straight } from './straight.ts';
import { around, blobsOf, hasHead, inkOf, staffInk, widthIn, type Blob, type StaffInk } from './things.ts';
import { FAINT } from './uprights.ts';

/** Lengths in spaces. Smaller ink is a speck, or a dot if it is as large as that; lower ink is left of a staff line. */
const SPECK = 0.55;
const LEVEL = 0.3;
/** What belongs together is a speck below this. */
const LEAST = 0.7;
const DOT = [0.2, 0.8] as const;
/** Words stand so far from the staff. */
const CLEAR = 0.4;
/** Ink with less white between belongs together. */
const TOGETHER = 0.5;
/** The meter stands so close to the start of the staff: two digits over each other, some twice as high, or a round sign. */
const ZONE = [4, 16] as const;
const WIDE = [1, 3.2] as const;
const HIGH = [3.6, 4.5] as const;
const HIGHER = [6.8, 8.4] as const;
const ROUND = [1.8, 3.4] as const;
const OFF = 0.35;
const DIGIT = 0.9;
const HALF = 1.4;
/** A dot stands so close behind its note, an accidental before it; an accidental is no larger. */
const BEHIND = 1.8;
const BEFORE = 0.8;
const ACCIDENTAL = [1.5, 3.7] as const;
/** A note with its accidental and its flag is no wider; a stem is so long and so wide, a beam so thick. */
const NOTE = 4;
const STEM = 3.3;
/** What has a stem is at least so high; where noise has broken it, it goes on beyond its ink by so much. */
const STEMMED = 2.5;
const BROKEN = 1;
/** A head that has lost its stem: it may begin so far from it. */
const LOST = 3.2;
const STEM_WIDE = 0.75;
/** A head is filled where it is at least so dark, 0–255: the middle of a hollow one is grey where the page is soft. */
const FULL = 170;
const BREAK = 0.2;
const BEAM = 0.3;
/** A bar line that parts the pickup is at least this sure, and nothing begins so close behind it. */
const SURE = 0.9;
const BARE = 0.6;

/**
 * Most quarters that a note can hold: a hollow one and any with a dot beside it, as noise may hide the dot of the one
 * and fill the other; a filled one without a dot; and one under a beam.
 */
const LONGEST = 3;
const FILLED = 1.5;
const BEAMED = 0.75;
/** Quarters of a meter that was not read: no usual one but 3/8 has less. */
const UNKNOWN = 2;
/** A meter read with less may be another; behind its middle are so many spaces of it, at most. */
const METER_SURE = 0.95;
const METER_SEEN = 0.5;
const NONE_SURE = 0.8;
const METER_HALF = 1.3;
/** A pickup holds no more than this share of a meter that was read, and no more than this one of the others seems to. */
const MOST = 0.5;
const SHORT = 1 / 3;

/**
 * Whether the first bar of a line is a pickup. Said only where all that stands behind the meter is notes that are
 * known, and they are too short for the meter even together: for half of one that was read, where nearly every other
 * bar of the line may be full, and for any usual one that was not, where all others may be.
 */
export function isPickup(
  straight: Straight,
  bars: readonly BarParts[],
  barlines: readonly Barline[],
  { meter, sure, x }: SaidMeter,
): boolean {
  const [first, ...others] = bars;
  if ((meter === null && sure >= NONE_SURE) || first === undefined || others.length === 0) return false;
  // Of which kind its bar line is does not matter.
  const line = barlines.find(({ x: at }) => Math.abs(at - first.x1) < straight.unit);
  if (line === undefined || line.chance < SURE) return false;
  // A pickup stands before the sign at which the repeat begins.
  if (first.left === 'repeat-start') return false;
  const ink = staffInk(straight, 0, barlines);
  const signs = signsOn(straight, ink);
  const isKnown = meter !== null && sure >= METER_SURE;
  const behind = x + METER_HALF * straight.unit;
  const start = isKnown
    ? behind
    : (meterEnd(signs, ink, straight) ?? (meter !== null && sure >= METER_SEEN ? behind : null));
  if (start === null) return false;
  const isBare = signs.every(({ x0 }) => x0 < first.x1 || x0 > first.x1 + BARE * straight.unit);
  if (!isBare) return false;
  const full = isKnown ? (4 * meter.beats) / meter.value : UNKNOWN;
  const most = (from: number, to: number) =>
    mostQuarters(
      signs.filter(({ x0, x1 }) => x0 + x1 > 2 * from && x0 + x1 < 2 * to),
      straight.unit,
    );
  const held = most(start, first.x1);
  const short = others.filter(({ x0, x1 }) => most(x0, x1) < full).length;
  return isKnown ? held <= MOST * full && short <= SHORT * others.length : held < full && short === 0;
}

const isIn = (value: number, [least, most]: readonly [number, number]) => value >= least && value <= most;

/** What stands in one place on the staff; rows from the staff's top line. */
interface Sign extends Blob {
  readonly stems: number;
  readonly beamed: boolean;
  readonly filled: boolean;
  /** A dot may stand behind it. */
  readonly dotted: boolean;
}

/** Signs on the upper staff, left to right. Words stand clear of it. */
function signsOn(straight: Straight, ink: StaffInk): Sign[] {
  const { tops, unit } = straight;
  const top = tops[0]! - ink.from;
  const blobs = blobsOf(ink.data, ink.width, ink.rows)
    .filter(({ y0, y1 }) => y1 > top - CLEAR * unit && y0 < top + (4 + CLEAR) * unit)
    .sort((a, b) => a.x0 - b.x0);
  const from = ink.from * ink.width;
  const full = inkOf(straight.data.subarray(from, from + ink.data.length), FULL);
  const isLarge = ({ x0, x1, y0, y1 }: Blob) =>
    Math.max(x1 - x0, y1 - y0) >= SPECK * unit && y1 - y0 >= LEVEL * unit;
  const groups: Blob[][] = [];
  let end = -Infinity;
  for (const blob of blobs.filter(isLarge)) {
    if (blob.x0 - end < TOGETHER * unit) groups.at(-1)!.push(blob);
    else groups.push([blob]);
    end = Math.max(end, blob.x1);
  }
  // Noise is no darker than grey.
  const isDark = ({ x0, x1, y0, y1 }: Blob) => {
    for (let v = y0; v < y1; v++)
      if (full.subarray(v * ink.width + x0, v * ink.width + x1).includes(1)) return true;
    return false;
  };
  const dots = blobs.filter(
    (blob) => isIn((blob.x1 - blob.x0) / unit, DOT) && isIn((blob.y1 - blob.y0) / unit, DOT) && isDark(blob),
  );
  return groups.flatMap((group) => {
    const box = around(group);
    if (Math.max(box.x1 - box.x0, box.y1 - box.y0) < LEAST * unit) return [];
    const filled = group.some((blob) => hasHead(full, ink.width, blob, unit));
    const stems = stemsIn(straight, ink, box, filled);
    return {
      ...box,
      y0: box.y0 - top,
      y1: box.y1 - top,
      stems: stems.length,
      beamed: stems.length > 1 && hasBeam(ink, box, stems, unit),
      filled,
      dotted: dots.some(({ x0 }) => x0 >= box.x1 && x0 < box.x1 + BEHIND * unit),
    };
  });
}

/** The column behind the meter at the start of the staff; null where none is seen. */
function meterEnd(signs: readonly Sign[], ink: StaffInk, { tops, ends, unit }: Straight): number | null {
  const top = tops[0]! - ink.from;
  const meter = signs.find((sign) => {
    const { x0, x1, y0, y1, stems } = sign;
    const [wide, high] = [(x1 - x0) / unit, (y1 - y0) / unit];
    if (!isIn((x0 - ends[0]!.x0) / unit, ZONE) || !isIn(wide, WIDE)) return false;
    if (Math.abs((y0 + y1) / 2 - 2 * unit) > OFF * unit) return false;
    // A note as high as two digits is thin where its stem is.
    const isWide = (from: number) =>
      widthIn(ink.data, ink.width, sign, top + from * unit, top + (from + HALF) * unit) > DIGIT * unit;
    if (isIn(high, HIGH)) return isWide(0.3) && isWide(2.3);
    if (isIn(high, HIGHER)) return isWide(-1.7) && isWide(2.3);
    return stems === 0 && wide > 1.4 && isIn(high, ROUND);
  });
  return meter?.x1 ?? null;
}

/** Quarters that these signs can hold at most; infinite where one is no note that is known, or none was seen. */
function mostQuarters(signs: readonly Sign[], unit: number): number {
  let sum = 0;
  for (const [i, sign] of signs.entries()) {
    const wide = sign.x1 - sign.x0;
    const next = signs[i + 1];
    const isAccidental =
      sign.stems === 0 &&
      wide < ACCIDENTAL[0] * unit &&
      sign.y1 - sign.y0 < ACCIDENTAL[1] * unit &&
      next !== undefined &&
      next.stems > 0 &&
      next.x0 - sign.x1 < BEFORE * unit;
    if (isAccidental) continue;
    if (sign.stems === 1 && wide <= NOTE * unit) sum += sign.filled && !sign.dotted ? FILLED : LONGEST;
    else if (sign.beamed) sum += BEAMED * sign.stems;
    else return Infinity;
  }
  return sum === 0 ? Infinity : sum;
}

/**
 * The columns behind uprights as long and as thin as a stem, left to right; staff lines may cross them. Noise may have
 * parted one from a head that is filled.
 */
function stemsIn(
  { data, width, unit }: Straight,
  { from, rows }: StaffInk,
  around: Blob,
  filled: boolean,
): number[] {
  const isLow = around.y1 - around.y0 < STEMMED * unit;
  if (isLow && !filled) return [];
  const beyond = (isLow ? LOST : BROKEN) * unit;
  const [first, last] = [
    Math.max(0, Math.round(around.y0 - beyond)) + from,
    Math.min(rows, Math.round(around.y1 + beyond)) + from,
  ];
  const isDark = (i: number) => data[i]! > FAINT || data[i - 1]! > FAINT || data[i + 1]! > FAINT;
  const found: number[] = [];
  // The grey beside a stem is dark too, as is what is next to that.
  for (let u = around.x0 - 2, columns = 0; u <= around.x1 + 3; u++) {
    let [longest, start, dark] = [0, first, first - 1];
    for (let v = first; v < last; v++) {
      if (!isDark(v * width + u)) continue;
      if (v - dark > BREAK * unit) start = v;
      dark = v;
      longest = Math.max(longest, v + 1 - start);
    }
    if (longest >= STEM * unit) columns++;
    else {
      if (columns > 0 && columns <= STEM_WIDE * unit) found.push(u);
      columns = 0;
    }
  }
  return found;
}

/** A beam goes from each of the stems to the next. */
function hasBeam(
  { data, width }: StaffInk,
  { y0, y1 }: Blob,
  stems: readonly number[],
  unit: number,
): boolean {
  for (let u = stems[0]! + 1; u < stems.at(-1)! - STEM_WIDE * unit; u++) {
    let longest = 0;
    for (let v = y0, run = 0; v < y1; v++) {
      run = data[v * width + u] ? run + 1 : 0;
      longest = Math.max(longest, run);
    }
    if (longest < BEAM * unit) return false;
  }
  return true;
}
