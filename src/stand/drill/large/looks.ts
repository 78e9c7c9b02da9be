import { signal } from '@preact/signals';
import {
  beginLook,
  flipped,
  inkRow,
  isHalfway,
  mayBeginAbove,
  rowsAbove,
  rowsBelow,
  rowUnderTitle,
} from '../../../core/drill/begin.ts';
import { clefEnd, CLEF_LOOK, type SpaceInk } from '../../../core/drill/clef.ts';
import type { Cut, Seen } from '../../../core/drill/cuts.ts';
import { partingOf, type Parting } from '../../../core/drill/parting.ts';
import { staffBefore, startingAt, startLook } from '../../../core/drill/start.ts';
import type { StandView } from '../../mode.ts';

/** Lines are looked at with a staff of so many device px. */
const STAFF = 48;
/** Darker than this share of the lightest, a pixel is ink. */
const INK = 0.6;

/** Looks at lines for what marks do not hold: where clef and key signature end, and where a tempo over it begins. */
export interface Looks {
  readonly seen: Seen;
  /** Looks at these lines where it has to and has not yet. */
  look(cuts: readonly Cut[], stop: AbortSignal): Promise<void>;
}

/** What was seen of one line, fractions of the page; null: nothing. */
type SeenLine = { readonly [what in keyof Seen]?: number | null };

export function createLooks(view: StandView): Looks {
  const lines = signal<ReadonlyMap<string, SeenLine>>(new Map());
  const keyOf = (page: number, top: number) => `${page} ${top}`;
  const said = (what: keyof Seen) => (page: number, top: number) =>
    lines.value.get(keyOf(page, top))?.[what] ?? null;
  return {
    seen: {
      clefEnd: said('clefEnd'),
      start: said('start'),
      begin: said('begin'),
      end: said('end'),
      ownFrom: said('ownFrom'),
      ownTo: said('ownTo'),
    },
    async look(cuts, stop) {
      let now = lines.peek();
      const see = async (what: keyof Seen, cut: Cut, looked: typeof beginOf | typeof clefEndOf) => {
        const key = keyOf(cut.line.page, cut.line.top);
        const line = now.get(key);
        if (line?.[what] !== undefined) return;
        const place = await looked(view, cut, stop);
        stop.throwIfAborted();
        const seen = typeof place === 'object' && place !== null ? place : { [what]: place };
        now = new Map(now).set(key, { ...line, ...seen });
      };
      for (const cut of cuts) {
        if (startLook(cut, view.sizes) !== null) await see('start', cut, startOf);
        const start = now.get(keyOf(cut.line.page, cut.line.top))?.start ?? null;
        const line =
          start === null
            ? cut.line
            : startingAt(cut.line, start, cut.staff / view.sizes[cut.line.page]!.width);
        if (cut.placed.box[0] > line.x0) await see('clefEnd', { ...cut, line }, clefEndOf);
        if (mayBeginAbove(cut.line)) await see('begin', cut, beginOf);
        if (mayBeginAbove(flipped(cut.line))) await see('end', cut, endOf);
      }
      lines.value = now;
    },
  };
}

async function clefEndOf(view: StandView, { line, staff }: Cut, stop: AbortSignal): Promise<number | null> {
  const { width, height } = view.sizes[line.page]!;
  const fine = STAFF / staff;
  const left = Math.round(line.x0 * width * fine);
  const most = Math.round(line.clefMost * width * fine) - left;
  const area = {
    left,
    top: Math.round(line.head * height * fine),
    width: Math.min(Math.round(CLEF_LOOK * STAFF), most),
    height: STAFF,
  };
  const { across, isInk } = inkOf(await view.cut(line.page, area, fine, stop));
  const inSpace = (x: number, space: number) => {
    const rows = Array.from({ length: STAFF / 4 }, (_, y) => (space * STAFF) / 4 + y);
    return rows.filter((y) => isInk(x, y)).length / rows.length;
  };
  const ink = Array.from({ length: across }, (_, x): SpaceInk => [
    inSpace(x, 0),
    inSpace(x, 1),
    inSpace(x, 2),
    inSpace(x, 3),
  ]);
  const columns = clefEnd(ink, STAFF);
  return columns === null ? null : (left + columns) / (width * fine);
}

/** Rows beside a staff that are not looked at for what stands between two: its own lines, where the page lies askew. */
const STAVES_KEPT = Math.round(0.1 * STAFF);
/** What stands at a line's start, a clef beyond its staff, a bar number, does not tell where two lines part. */
const SIGNS = 3 * STAFF;
/** Lines further apart have nothing that may be of either. */
const FAR = 5 * STAFF;
/** How far off its place a staff line may be on a page that lies askew, px. */
const OFF = 2;

async function startOf(view: StandView, cut: Cut, stop: AbortSignal): Promise<number | null> {
  const { line, staff } = cut;
  const { width, height } = view.sizes[line.page]!;
  const fine = STAFF / staff;
  const end = Math.round(line.x0 * width * fine);
  const left = Math.round((startLook(cut, view.sizes) ?? line.x0) * width * fine);
  const top = Math.max(0, Math.round(line.head * height * fine) - OFF);
  const area = { left, top, width: end - left, height: STAFF + 2 * OFF + 1 };
  const { across, isInk } = inkOf(await view.cut(line.page, area, fine, stop));
  const near = Array.from({ length: 2 * OFF + 1 }, (_, y) => y);
  const columns = Array.from(
    { length: across },
    (_, x) => near.some((y) => isInk(x, y)) && near.some((y) => isInk(x, STAFF + y)),
  );
  const before = staffBefore(columns, STAFF);
  return before === 0 ? null : (end - before) / (width * fine);
}

/** Px for the height of the page, where a staff is looked at. */
const rowsOf = (view: StandView, { line, staff }: Cut) => (view.sizes[line.page]!.height * STAFF) / staff;

/** Rows of the page, from one to before another, from end to end of a line. */
async function lookAlong(view: StandView, cut: Cut, from: number, to: number, stop: AbortSignal) {
  const { line, staff } = cut;
  const fine = STAFF / staff;
  const wide = view.sizes[line.page]!.width * fine;
  const left = Math.round(line.x0 * wide);
  const area = { left, top: from, width: Math.round(line.x1 * wide) - left, height: to - from };
  return { ...inkOf(await view.cut(line.page, area, fine, stop)), middle: wide / 2 - left };
}

async function beginOf(view: StandView, cut: Cut, stop: AbortSignal): Promise<SeenLine | number | null> {
  const { line } = cut;
  const parting = await partedAt(view, cut, line.above, line.top, stop);
  if (parting) return { begin: parting.lower, ownFrom: (parting.white.from + parting.white.to) / 2 };
  const high = rowsOf(view, cut);
  const end = Math.floor(line.y0 * high);
  const top = Math.min(end, Math.round(beginLook(line) * high));
  const bottom = Math.max(end + 1, Math.floor(line.top * high));
  const { across, isInk, middle } = await lookAlong(view, cut, top, bottom, stop);
  const columns = Array.from({ length: across }, (_, x) => x);
  const rows = Array.from({ length: bottom - top }, (_, y) =>
    inkRow(
      columns.map((x) => isInk(x, y)),
      middle,
      STAFF,
    ),
  );
  const under = rowUnderTitle(rows, middle, across, STAFF);
  if (under > 0) return (top + under) / high;
  // Between two lines a high note may stand at a side, far from all else.
  const isShared = isHalfway(line);
  const ink = rows.map((row, y) => (isShared ? columns.some((x) => isInk(x, y)) : row !== null));
  const above = rowsAbove(ink, end - top, isShared);
  return above === 0 ? null : (end - above) / high;
}

/** Below a reach there may be a segno or low notes of this line, or what stands over the next: it is of the larger part. */
async function endOf(view: StandView, cut: Cut, stop: AbortSignal): Promise<SeenLine | number | null> {
  const { line } = cut;
  const parting = await partedAt(view, cut, line.bottom, line.below, stop);
  if (parting) return { end: parting.upper, ownTo: (parting.white.from + parting.white.to) / 2 };
  const high = rowsOf(view, cut);
  const top = Math.floor(line.bottom * high);
  const end = Math.ceil(line.y1 * high);
  const bottom = Math.max(end + 1, Math.round((1 - beginLook(flipped(line))) * high));
  const { across, isInk } = await lookAlong(view, cut, top, bottom, stop);
  const isInkAt = (at: number) => isInk(at % across, Math.floor(at / across));
  const below = across === 0 ? 0 : rowsBelow(isInkAt, across, bottom - top, end - top);
  return below === 0 ? null : (end + below) / high;
}

/** Where a line and the one over or under it part: where the upper one ends and the lower one begins; null: half the way. */
async function partedAt(
  view: StandView,
  cut: Cut,
  upper: number | null,
  lower: number | null,
  stop: AbortSignal,
): Promise<Parting | null> {
  const high = rowsOf(view, cut);
  if (upper === null || lower === null || (lower - upper) * high > FAR) return null;
  const top = Math.round(upper * high) + STAVES_KEPT;
  const bottom = Math.round(lower * high) - STAVES_KEPT;
  if (bottom <= top) return null;
  const { across, isInk } = await lookAlong(view, cut, top, bottom, stop);
  const parting = partingOf({ isInk, width: across, height: bottom - top, staff: STAFF, signs: SIGNS });
  if (!parting) return null;
  const place = (row: number) => (top + row) / high;
  const { from, to } = parting.white;
  return {
    upper: place(parting.upper),
    lower: place(parting.lower),
    white: { from: place(from), to: place(to) },
  };
}

/** Tells ink from paper, both as they are in this picture. */
function inkOf(canvas: HTMLCanvasElement): { across: number; isInk: (x: number, y: number) => boolean } {
  const { width, height } = canvas;
  const data = canvas.getContext('2d')?.getImageData(0, 0, width, height).data;
  if (!data) return { across: 0, isInk: () => false };
  const light = Array.from({ length: width * height }, (_, i) => data[4 * i + 1]!);
  const paper = light.reduce((most, value) => Math.max(most, value), 0);
  return { across: width, isInk: (x, y) => light[y * width + x]! < INK * paper };
}
