import type { PlacedBox } from '../chart/types.ts';
import { isSameRest, runsOf, type Cut, type Line } from './cuts.ts';
import type { Size } from './legible.ts';
import { lengthOf, plainOf, without } from './rests.ts';

/** Left, top, width and height. */
export interface Area {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/** Rows of a piece, px of its source. */
export interface PieceStaves {
  /** Top line and bottom line. */
  readonly top: number;
  readonly bottom: number;
  /** Above the first and below the other only what is joined to what lies between them belongs to the piece. */
  readonly ownFrom: number;
  readonly ownTo: number;
}

/** A part of a page as it is set. */
export interface Piece {
  readonly page: number;
  readonly line: Line;
  /** What it shows: whole device pixels of the page drawn at the setting's scale × density. */
  readonly source: Area;
  /** Where it stands in the setting, CSS px on whole device pixels; as large as its source. */
  readonly left: number;
  readonly top: number;
  /**
   * Ink that touches its upper or lower edge and reaches no further in than this belongs to something beyond,
   * CSS px.
   */
  readonly rim: number;
  /** Its staves, px of its source. None where only a clef is shown. */
  readonly staves?: PieceStaves;
}

/** A box as it is set. */
export interface SetBox {
  /** Bar of the span, from 0; -1 the pickup. */
  readonly bar: number;
  readonly placed: PlacedBox;
  /** Bar line to bar line, top line to bottom line; CSS px in the setting. */
  readonly box: Area;
  /** One staff's height, CSS px. */
  readonly staff: number;
  /** Where its reach ends below, CSS px in the setting. */
  readonly reachBottom: number;
}

export interface SetLine {
  /** CSS px in the setting. */
  readonly top: number;
  readonly bottom: number;
  /** Clef and key signature, where the bars do not begin with them; then the bars. */
  readonly pieces: readonly Piece[];
  readonly boxes: readonly SetBox[];
}

/** A span's bars, set large. */
export interface Setting {
  /** CSS px a CSS px of the page at 100 %. */
  readonly scale: number;
  readonly density: number;
  /** CSS px. */
  readonly width: number;
  readonly height: number;
  readonly lines: readonly SetLine[];
}

export interface SettingOptions {
  readonly cuts: readonly Cut[];
  /** Sizes of all pages at 100 %. */
  readonly pages: readonly Size[];
  /** The window that the lines stand in; higher settings scroll. */
  readonly room: Size;
  /** Least height of a staff, CSS px. */
  readonly least: number;
  /** Device pixels a CSS px. */
  readonly density: number;
}

/** Bars of one line. */
const MOST_BARS = 4;
/** Shown beside the outer bar lines, staff heights: their own thickness. */
const EDGE = 0.1;
/** A clef reaches so far over and under its staff, staff heights; section letters and chords stand higher. */
const CLEF_REACH = 0.5;
/** Of things beyond a cut so much is left at most, staff heights: too low to be read. */
const RIM = 0.15;
/** Over a clef nothing is read: what does not reach the staff itself is a tempo, or a chord of the bar after it. */
const CLEF_RIM = CLEF_REACH - 0.05;
/** Kept free under each line for the strokes of the beats, staff heights: two spaces hold the thick one, clear of low notes. */
const FOOT = 0.5;
/** Places are rounded outwards to whole device pixels: so many of them a line. */
const ROUNDED = 3;
/** Where there is room lines grow by these steps: few, so that the next step finds its line drawn already. */
const GROWTH = [1.5, 1.25, 1] as const;

/**
 * Sets bars at the least size that the distance asks or somewhat larger where all fits, one to four a line.
 * Where not even one bar fits at that size, it is as large as fits: nothing is ever cut off.
 */
export function settingOf(options: SettingOptions): Setting {
  const { pages, least, density } = options;
  const rounded = ROUNDED / density;
  const room = { width: options.room.width - rounded, height: options.room.height - rounded };
  const asked = least / Math.min(...options.cuts.map(({ staff }) => staff));
  const cuts = options.cuts.map((cut) =>
    widthAt([cut], pages, asked) > room.width ? { ...cut, out: plainOf(cut, pages) } : cut,
  );
  const widest = Math.max(...cuts.map((cut) => widthAt([cut], pages, 1)));
  const highest = Math.max(...cuts.map((cut) => highAt(cut, pages, 1)));
  const scale = Math.min(asked, room.width / widest, room.height / highest);
  const rows = runsOf(cuts).flatMap((run) => rowsOf(run, pages, scale, room.width));
  const fits = (growth: number) =>
    rows.every((row) => widthAt(row, pages, scale * growth) <= room.width) &&
    heightOf(rows, pages, scale * growth) + (rows.length - 1) * rounded <= room.height;
  const growth = scale < asked ? 1 : (GROWTH.find(fits) ?? 1);
  return lay(rows, pages, scale * growth, density);
}

/** Whether the lines that bars stand on would fit as they are printed, at the least size. */
export function linesFit({ cuts, pages, room, least }: Omit<SettingOptions, 'density'>): boolean {
  const scale = least / Math.min(...cuts.map(({ staff }) => staff));
  return cuts.every(
    (cut) =>
      (cut.line.x1 - cut.line.x0) * pages[cut.line.page]!.width * scale <= room.width &&
      highAt(cut, pages, scale) <= room.height,
  );
}

type Row = readonly Cut[];

const hasClef = ([first]: Row) => first!.placed.box[0] > first!.line.x0 + 1e-6;

/** Width of cuts in a row at a scale, with the clef in front where they need one. */
function widthAt(row: Row, pages: readonly Size[], scale: number): number {
  const { line, placed, staff } = row[0]!;
  const { width } = pages[line.page]!;
  const clef = hasClef(row) ? line.clefEnd - line.x0 : 0;
  const edges = EDGE * staff * (hasClef(row) ? 3 : 2);
  const shown = row.at(-1)!.placed.box[2] - placed.box[0] - lengthOf(outOf(row));
  return ((shown + clef) * width + edges) * scale;
}

/** What a row leaves out: of all bars of one rest the same. */
const outOf = (row: Row) => row.flatMap((cut, i) => (isSameRest(row[i - 1], cut) ? [] : (cut.out ?? [])));

/** Height of a cut's line with the room for its strokes. */
const highAt = ({ staff, line }: Cut, pages: readonly Size[], scale: number) =>
  ((line.y1 - line.y0) * pages[line.page]!.height + FOOT * staff) * scale;

const heightOf = (rows: readonly Row[], pages: readonly Size[], scale: number) =>
  rows.reduce((sum, row) => sum + highAt(row[0]!, pages, scale), 0);

const picturesOf = (row: Row) => row.filter((cut, i) => !isSameRest(row[i - 1], cut)).length;

/** Breaks a run into as few rows as fit, and those as even as they get. */
function rowsOf(run: Row, pages: readonly Size[], scale: number, room: number): readonly Row[] {
  const within = (limit: number) => {
    const rows: Cut[][] = [];
    for (const cut of run) {
      const row = rows.at(-1);
      const isFull = row && !isSameRest(row.at(-1), cut) && picturesOf(row) >= MOST_BARS;
      if (row && !isFull && widthAt([...row, cut], pages, scale) <= limit) row.push(cut);
      else rows.push([cut]);
    }
    return rows;
  };
  const fewest = within(room).length;
  let [low, high] = [0, room];
  // Halving a room of thousands of px 12 times finds the evenest rows to within a px or two.
  for (let i = 0; i < 12; i++) {
    const middle = (low + high) / 2;
    if (within(middle).length > fewest) low = middle;
    else high = middle;
  }
  return within(high);
}

/** Gives every piece its place: on whole device pixels, where nothing drawn is blurred. */
function lay(rows: readonly Row[], pages: readonly Size[], scale: number, density: number): Setting {
  const fine = scale * density;
  let top = 0;
  const lines = rows.map((row): SetLine => {
    const { line, placed, staff } = row[0]!;
    const { width, height } = pages[line.page]!;
    const edge = (EDGE * staff) / width;
    const y0 = Math.max(0, Math.floor(line.y0 * height * fine));
    const y1 = Math.ceil(line.y1 * height * fine);
    const area = (from: number, to: number): Area => {
      const left = Math.max(0, Math.floor((from - edge) * width * fine));
      return { left, top: y0, width: Math.ceil(Math.min(1, to) * width * fine) - left, height: y1 - y0 };
    };
    const clef = hasClef(row) ? clefOf(area(line.x0, line.clefEnd), row[0]!, pages, fine) : null;
    const shown = without([placed.box[0], row.at(-1)!.placed.box[2] + edge], outOf(row));
    let after = clef ? clef.width : 0;
    const bars = shown.map(([from, to], i) => {
      const source = i === 0 ? area(from, to) : area(from + edge, to);
      const left = after;
      after += source.width;
      return { source, left };
    });
    /** Where a place across the page is set, CSS px. */
    const across = (x: number) => {
      const { source, left } = bars[shown.findLastIndex(([from]) => from <= x)] ?? bars[0]!;
      return x * width * scale + (left - source.left) / density;
    };
    const at = top / density;
    const inPiece = (y: number) => y * height * fine - y0;
    const staves = {
      top: inPiece(line.top),
      bottom: inPiece(line.bottom),
      ownFrom: inPiece(line.ownFrom ?? -Infinity),
      ownTo: inPiece(line.ownTo ?? Infinity),
    };
    const piece = (source: Area, left: number, rim: number): Piece => ({
      page: line.page,
      line,
      source,
      left,
      top: at + (source.top - y0) / density,
      rim: rim * staff * scale,
    });
    const boxes = row.map((cut): SetBox => {
      const [x0, b0, x1, b1] = cut.placed.box;
      return {
        bar: cut.bar,
        placed: cut.placed,
        reachBottom: at + (y1 - y0) / density,
        box: {
          left: across(x0),
          top: at + b0 * height * scale - y0 / density,
          width: across(x1) - across(x0),
          height: (b1 - b0) * height * scale,
        },
        staff: staff * scale,
      };
    });
    top += y1 - y0 + Math.ceil(FOOT * staff * fine);
    return {
      top: at,
      bottom: top / density,
      pieces: [
        ...(clef ? [piece(clef, 0, CLEF_RIM)] : []),
        ...bars.map(({ source, left }) => ({ ...piece(source, left / density, RIM), staves })),
      ],
      boxes,
    };
  });
  const right = ({ left, source }: Piece) => left + source.width / density;
  return {
    scale,
    density,
    width: Math.max(...lines.flatMap(({ pieces }) => pieces.map(right))),
    height: lines.at(-1)!.bottom,
    lines,
  };
}

/** Of what stands at a line's start, only as high as a clef reaches. `fine`: device pixels a CSS px of the page. */
function clefOf(area: Area, { line, staff }: Cut, pages: readonly Size[], fine: number): Area {
  const { height } = pages[line.page]!;
  const reach = CLEF_REACH * staff;
  const top = Math.max(area.top, Math.floor((line.top * height - reach) * fine));
  const bottom = Math.min(area.top + area.height, Math.ceil((line.bottom * height + reach) * fine));
  return { ...area, top, height: bottom - top };
}
