/** Where clef, key and meter end and the music of a line begins. */
import { blobsOf } from './blobs.ts';
import { FINE, type Grey } from './grey.ts';
import { INK, type Staff } from './layers.ts';

/** Free paper that parts two signs, in pixels. */
const APART = 4;
/** So much free paper stands before the music, in pixels: an accidental stands closer to its note. */
const FREE = 5;
/** An upright this long is a stem; a sign this low is a note without a stem, or a rest; in spaces. */
const STEM = 3.6;
const LOW = 1.8;
/** Under a beam stems may be this short; then a head tells them: so many pixels of it are this dark, 0–15. */
const BEAMED = 3.1;
const HEAD_WIDE = 5;
const HEAD_HIGH = 3;
const FULL = 8;
/** A meter is as high as its staff, give or take this, and so wide; in spaces. */
const METER = 0.5;
const NARROW = 1;
const WIDE = 3.3;
/** A clef begins before this place, a key behind that, and clef, key and meter end before the last, in spaces. */
const CLEF = 2.5;
const KEY = 3.7;
const SIGNATURES = 17;
/** Signs are looked for so far beyond the staff, in spaces. */
const BEYOND = 3;
/** Darkness from which a stem is one, 0–15. */
const FAINT = 3;
/** Smaller things, in pixels, are none. */
const SMALL = 8;
/** The line that may stand at the start of the staves is no clef. */
const AFTER_LINE = 0.4;

export interface Head {
  /** First column of the clef. */
  readonly begin: number;
  /** First column behind clef and key. */
  readonly end: number;
  /** First column of the music: behind a meter too. */
  readonly music: number;
}

interface Run {
  readonly x0: number;
  readonly x1: number;
}

/** A staff without its lines, 1 ink, with the row of its top line. */
interface Bare {
  readonly ink: Grey;
  readonly picture: Grey;
  readonly top: number;
}

/**
 * The head of a line; null when in doubt. Signs that may belong to the key are taken for it: a line that then seems
 * to have another key is compared with none.
 * @param start column where the staves begin
 */
export function headOf(staves: readonly Staff[], start: number, hasMeter: boolean): Head | null {
  const from = Math.max(0, Math.round(start + AFTER_LINE * FINE));
  const to = Math.round(start + (SIGNATURES + 4) * FINE);
  const bare = staves.map((staff) => withoutLines(staff, to));
  const runs = runsOf(bare, from, to);
  // A key may stand so close to its clef that the two are one.
  const isClef = ({ x0 }: Run) => x0 < start + CLEF * FINE;
  const behind = runs.filter((run) => !isClef(run));
  const begin = runs.find(isClef)?.x0 ?? from;
  const last = runs.findLast(isClef)?.x1 ?? from;
  const beyond = { x0: Math.round(start + KEY * FINE), x1: last };
  if (
    last > start + SIGNATURES * FINE ||
    bare.some((staff) => extentOf(staff, beyond).longest >= STEM * FINE)
  )
    return null;
  if (hasMeter) {
    const meter = meterIn(bare, behind);
    const music = behind[meter + 1];
    return meter < 0 || !music ? null : { begin, end: behind[meter - 1]?.x1 ?? last, music: music.x0 };
  }
  const first = behind.findIndex((run) => bare.some((staff) => isMusic(staff, run)));
  const music = behind[first];
  if (!music || music.x0 > start + SIGNATURES * FINE) return null;
  const end = behind[first - 1]?.x1 ?? last;
  return music.x0 - end < FREE ? null : { begin, end, music: music.x0 };
}

/** The run that is most like a meter: as high as the staff, or else the last before the music like a C; -1: none. */
function meterIn(bare: readonly Bare[], runs: readonly Run[]): number {
  const music = runs.findIndex(
    (run) => bare.some((staff) => isMusic(staff, run)) && !bare.some((staff) => isMeter(staff, run, 0)),
  );
  const signs = music < 0 ? runs : runs.slice(0, music);
  const find = (less: number) =>
    signs.findLastIndex((run) => bare.every((staff) => isMeter(staff, run, less)));
  const whole = find(0);
  if (whole >= 0) return whole;
  const common = find(1);
  return common >= 0 ? common : signs.findLastIndex((run) => bare.some((staff) => isMeter(staff, run, 0)));
}

/** Ink of the first columns without the staff's lines and without grain. */
function withoutLines({ picture, soft, top }: Staff, columns: number): Bare {
  const { height } = picture;
  const width = Math.min(picture.width, columns);
  const data = new Uint8Array(width * height);
  for (let i = 0; i < data.length; i++)
    if (picture.data[i]! >= INK - 1 && soft.data[i]! >= INK - 1) data[i] = 1;
  for (let k = 0; k < 5; k++) {
    const line = top + k * FINE;
    for (let x = 0; x < width; x++) {
      const at = x * height + line;
      if (line < 2 || line + 2 >= height || data[at - 2] || data[at + 2]) continue;
      data.fill(0, at - 1, at + 2);
    }
  }
  // What is left of a line or of grain is small.
  const ink = new Uint8Array(data.length);
  for (const { pixels } of blobsOf({ width, height, data }, 1, SMALL, [0, height]))
    for (const at of pixels) ink[at] = 1;
  return { ink: { width, height, data: ink }, picture, top };
}

/** Columns in which any staff has ink, parted by free paper. */
function runsOf(bare: readonly Bare[], from: number, to: number): Run[] {
  const runs: { x0: number; x1: number }[] = [];
  for (let x = from; x < to; x++) {
    if (!bare.some(({ ink, top }) => inkIn(ink, x, top) >= 2)) continue;
    const last = runs.at(-1);
    if (last && x - last.x1 < APART) last.x1 = x + 1;
    else runs.push({ x0: x, x1: x + 1 });
  }
  return runs;
}

/** Rows of a staff and so many spaces beyond. */
const rowsOf = ({ height }: Pick<Grey, 'height'>, top: number, beyond: number): [number, number] => [
  Math.max(0, top - beyond * FINE),
  Math.min(height, top + (4 + beyond) * FINE),
];

function inkIn(ink: Grey, x: number, top: number): number {
  if (x >= ink.width) return 0;
  const [from, to] = rowsOf(ink, top, BEYOND);
  let count = 0;
  for (let y = from; y < to; y++) count += ink.data[x * ink.height + y]!;
  return count;
}

/** Rows that a run takes, its ink, and the longest upright in it. Rows of a single pixel are specks. */
function extentOf({ ink, picture, top }: Bare, { x0, x1 }: Run, beyond = BEYOND) {
  const [from, to] = rowsOf(ink, top, beyond);
  const rows = new Uint16Array(to);
  let [size, longest] = [0, 0];
  for (let x = x0; x < x1; x++)
    for (let y = from, upright = 0; y < to; y++) {
      const at = x * ink.height + y;
      upright = picture.data[at]! >= FAINT ? upright + 1 : 0;
      longest = Math.max(longest, upright);
      if (!ink.data[at]) continue;
      size++;
      rows[y]!++;
    }
  return { y0: rows.findIndex((n) => n > 1), y1: rows.findLastIndex((n) => n > 1) + 1, size, longest };
}

/** A stem, or nothing as high as an accidental. */
function isMusic(bare: Bare, run: Run): boolean {
  const { y0, y1, size, longest } = extentOf(bare, run);
  if (longest >= STEM * FINE || (size > 6 && y1 - y0 <= LOW * FINE)) return true;
  return longest >= BEAMED * FINE && hasHead(bare, run);
}

/** A place that is filled as a head is, and no accidental. */
function hasHead({ picture: { data, height }, top }: Bare, { x0, x1 }: Run): boolean {
  const [from, to] = rowsOf({ height }, top, BEYOND);
  for (let x = x0; x + HEAD_WIDE <= x1; x++)
    for (let y = from, run = 0; y < to; y++) {
      let isFull = true;
      for (let c = x; isFull && c < x + HEAD_WIDE; c++) isFull = data[c * height + y]! > FULL;
      run = isFull ? run + 1 : 0;
      if (run >= HEAD_HIGH) return true;
    }
  return false;
}

/** As high as the staff, less so many spaces above and below. */
function isMeter(bare: Bare, run: Run, less: number): boolean {
  const { y0, y1 } = extentOf(bare, run, 1);
  const wide = run.x1 - run.x0;
  const off = Math.max(Math.abs(y0 - bare.top - less * FINE), Math.abs(y1 - bare.top - (4 - less) * FINE));
  return off <= METER * FINE && wide >= NARROW * FINE && wide <= WIDE * FINE;
}
