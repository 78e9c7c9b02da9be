/**
 * The parts of a tune whose page names none: players of jigs and reels say "the A part" of what stands before the
 * first repeat (common practice, no source).
 */
import type { BarId, Marks } from '../../chart/types.ts';
import { writtenBars, type WrittenBar } from '../../chart/written.ts';

/** Parts are no shorter, in bars: what is shorter is a vamp, an ending or an intro, and then none is named. */
const SHORTEST = 4;
/** A tune of one part is named, if it is repeated, from so many bars on. */
const ALONE = 8;
/** Parts as long as each other with so large a share of bars alike have one name. */
const ALIKE = 0.75;

type Part = readonly WrittenBar[];

/**
 * Marks with its parts named A, B, and so on, as their repeats and double bar lines tell; unchanged where a section
 * is printed or a part is too short. A coda has its own name: what stands before it is parted.
 * @param doubles bars that end at a double bar line
 */
export function withParts(marks: Marks, doubles: ReadonlySet<BarId>): Marks {
  const written = writtenBars(marks);
  if (written.some(({ section }) => section !== null)) return marks;
  const coda = written.findIndex((bar) => bar.coda);
  const parts = partsOf(coda < 0 ? written : written.slice(0, coda), doubles);
  const lengths = parts.map((part) => part.reduce((sum, { bars }) => sum + bars, 0));
  const isOne =
    parts.length === 1 && lengths[0]! >= ALONE && parts[0]!.some(({ repeatEnd }) => repeatEnd > 0);
  if (!(parts.length > 1 || isOne) || parts.length > 26 || lengths.some((length) => length < SHORTEST))
    return marks;
  const names = new Map(namesOf(parts).map((name, i) => [parts[i]![0]!.id, name]));
  const systems = marks.systems.map((system) => ({
    ...system,
    bars: system.bars.map((bar) => {
      const section = names.get(bar.id);
      return section === undefined ? bar : { ...bar, section };
    }),
  }));
  return { ...marks, systems };
}

/** Full bars from one start of a part to the next; bars under ending brackets belong to what they end. */
function partsOf(written: readonly WrittenBar[], doubles: ReadonlySet<BarId>): Part[] {
  const parts: WrittenBar[][] = [];
  let before: WrittenBar | undefined;
  for (const bar of written) {
    if (bar.pickup > 0) continue;
    const hasEnded =
      before === undefined ||
      before.repeatEnd > 0 ||
      before.ending.length > 0 ||
      // Where a coda is left for, a double bar line ends no part.
      (!before.toCoda && before.ids.some((id) => doubles.has(id)));
    if (bar.repeatStart || (hasEnded && bar.ending.length === 0)) parts.push([]);
    // A tune may begin under a bracket that was misread.
    if (parts.length === 0) parts.push([]);
    parts.at(-1)!.push(bar);
    before = bar;
  }
  return parts;
}

/** A part that is almost an earlier one has its name. */
function namesOf(parts: readonly Part[]): string[] {
  const names: string[] = [];
  for (const [i, part] of parts.entries()) {
    const like = parts.slice(0, i).findIndex((earlier) => areAlike(earlier, part));
    names.push(like >= 0 ? names[like]! : String.fromCharCode(65 + new Set(names).size));
  }
  return names;
}

/** Twins are said as the first of their class. */
function areAlike(a: Part, b: Part): boolean {
  const music = ({ id, as }: WrittenBar) => as ?? id;
  const same = b.filter((bar, i) => a[i] !== undefined && music(a[i]) === music(bar));
  return a.length === b.length && same.length >= ALIKE * a.length;
}
