/** Pictures of bars. A grey picture lies column by column, from the top down: 0 paper – 15 full ink. */

/** A byte of ink as one of 15 levels. */
function levelOf(ink: i32): i32 {
  return (ink + 8) / 17;
}

/**
 * Rows of a straightened picture at half their size, from row `first` on, into a grey picture; and the same with every
 * pixel and its neighbours weighed 1, 2, 1 both ways into `soft`, but for its edges.
 * @param pale ink below this is paper
 * @param grain pixels that are less there are specks
 * @param room as large as the grey picture
 */
export function coarseStaff(
  picture: usize,
  width: i32,
  height: i32,
  first: i32,
  out: usize,
  columns: i32,
  rows: i32,
  pale: i32,
  grain: u8,
  room: usize,
  soft: usize,
): void {
  const count = columns * rows;
  memory.fill(out, 0, <usize>count);
  for (let y = 0; y < rows; y++) {
    const row = first + 2 * y;
    if (row < 0 || row + 2 > height) continue;
    let at = picture + <usize>(row * width);
    let into = out + <usize>y;
    for (let x = 0; x < columns; x++, at += 2, into += <usize>rows) {
      if (x + 8 <= columns && !v128.any_true(v128.or(v128.load(at), v128.load(at + <usize>width)))) {
        x += 7;
        at += 14;
        into += 7 * <usize>rows;
        continue;
      }
      const upper = <i32>load<u16>(at);
      const lower = <i32>load<u16>(at + <usize>width);
      // Most of a page is paper.
      if ((upper | lower) === 0) continue;
      const sum = (upper & 255) + (upper >> 8) + (lower & 255) + (lower >> 8);
      if (sum >= 4 * pale) store<u8>(into, <u8>((sum + 34) / 68));
    }
  }
  memory.fill(room, 0, <usize>count);
  memory.fill(soft, 0, <usize>count);
  for (let i = <usize>1; i + 1 < <usize>count; i++)
    store<u8>(room + i, load<u8>(out + i - 1) + 2 * load<u8>(out + i) + load<u8>(out + i + 1));
  const column = <usize>rows;
  for (let i = column; i + column < <usize>count; i++) {
    const sum =
      <i32>load<u8>(room + i - column) + 2 * <i32>load<u8>(room + i) + <i32>load<u8>(room + i + column);
    store<u8>(soft + i, <u8>((sum + 8) >> 4));
  }
  for (let i: usize = 0; i < <usize>count; i++) if (load<u8>(soft + i) < grain) store<u8>(out + i, 0);
}

/**
 * The same rows as they are, where `soft` says that they are no grain.
 * @param columns of the grey picture, and `rows`: twice those of `soft`
 */
export function fineStaff(
  picture: usize,
  width: i32,
  height: i32,
  first: i32,
  out: usize,
  columns: i32,
  rows: i32,
  pale: i32,
  grain: u8,
  soft: usize,
): void {
  memory.fill(out, 0, <usize>(columns * rows));
  const half = <usize>(rows >> 1);
  for (let y = max(0, -first); y < min(rows, height - first); y++) {
    const at = picture + <usize>((first + y) * width);
    const grains = soft + <usize>(y >> 1);
    let into = out + <usize>y;
    for (let x = 0; x < columns; x++, into += <usize>rows) {
      // Most of a page is paper.
      if (x + 16 <= columns && !v128.any_true(i8x16.ge_u(v128.load(at + <usize>x), i8x16.splat(<i8>pale)))) {
        x += 15;
        into += 15 * <usize>rows;
        continue;
      }
      const ink = <i32>load<u8>(at + <usize>x);
      if (ink >= pale && load<u8>(grains + <usize>(x >> 1) * half) >= grain)
        store<u8>(into, <u8>levelOf(ink));
    }
  }
}

/** Makes paper of what is masked in a grey picture `by` times as fine as its mask, and of its rows before `highest`. */
export function masked(grey: usize, columns: i32, rows: i32, mask: usize, by: i32, highest: i32): void {
  const some = rows / by;
  for (let x = 0; x < columns; x++, grey += <usize>rows) {
    memory.fill(grey, 0, <usize>highest);
    const column = mask + <usize>(x / by) * <usize>some;
    for (let k = highest / by; k < some; k++) {
      if (k + 16 <= some && !v128.any_true(v128.load(column + <usize>k))) {
        k += 15;
        continue;
      }
      if (load<u8>(column + <usize>k) !== 0)
        for (let i = k * by; i < (k + 1) * by; i++) store<u8>(grey + <usize>i, 0);
    }
  }
}

/** The first row of a grey picture with ink and the one behind the last, in the high and the low half of a word. */
export function inkRows(grey: usize, columns: i32, rows: i32): i32 {
  let first = rows;
  let end = 0;
  for (let x = 0; x < columns; x++, grey += <usize>rows) {
    let y = 0;
    while (y < first && load<u8>(grey + <usize>y) === 0) y++;
    first = y;
    y = rows;
    while (y > end && load<u8>(grey + <usize>(y - 1)) === 0) y--;
    end = y;
  }
  return (first << 16) | end;
}

/** Leaves of a grey picture the rows from `y0` to before `y1`; paper where it goes beyond. */
export function rowsOf(grey: usize, columns: i32, rows: i32, y0: i32, y1: i32): void {
  const count = <usize>(min(rows, y1) - y0);
  const high = <usize>(y1 - y0);
  for (let x: usize = 0; x < <usize>columns; x++) {
    memory.copy(grey + x * high, grey + x * <usize>rows + <usize>y0, count);
    if (count < high) memory.fill(grey + x * high + count, 0, high - count);
  }
}

/** Takes `by` off a row of a grey picture. */
export function faded(grey: usize, columns: i32, rows: i32, row: i32, by: i32): void {
  let at = grey + <usize>row;
  for (let x = 0; x < columns; x++, at += <usize>rows) store<u8>(at, <u8>max(0, <i32>load<u8>(at) - by));
}

/** Runs that one sign holds: as many as this of the same as in the column before, of ink, of paper. */
const SAME = 16;
const INK = 6;
const PAPER = 6;
/** Longer ones, of the same and of paper: one of these twice, four times … as long. */
const LONG_SAME = 32;
const LONG_PAPER = 12;

/**
 * Writes a grey picture as signs, 0–63, and gives how many there are: see `alike/pack.ts`.
 * @param out room for as many bytes as the picture has pixels
 */
export function packed(grey: usize, columns: i32, rows: i32, out: usize): i32 {
  const count = columns * rows;
  // Six levels are kept; what is paler than the first is paper.
  for (let i = grey, end = grey + <usize>count; i < end; i++) {
    const level = load<u8>(i);
    store<u8>(i, level < 3 ? 0 : (level + 1) / 3);
  }
  const begin = out;
  for (let i = 0; i < count;) {
    const level = load<u8>(grey + <usize>i);
    let same = i;
    while (
      same < count &&
      load<u8>(grey + <usize>same) === (same < rows ? 0 : load<u8>(grey + <usize>(same - rows)))
    )
      same++;
    let run = i + 1;
    while (run < count && load<u8>(grey + <usize>run) === level) run++;
    if (same >= run) {
      out = runs(out, same - i, 0, SAME, LONG_SAME, 8);
      i = same;
    } else {
      out =
        level === 0
          ? runs(out, run - i, 54, PAPER, LONG_PAPER, 4)
          : runs(out, run - i, <u8>(18 + 6 * <i32>level), INK, 0, 0);
      i = run;
    }
  }
  return <i32>(out - begin);
}

/** Signs for `count` pixels: from `sign` on `short` of them for short runs, then `many` for long ones. */
function runs(out: usize, count: i32, sign: u8, short: i32, long: i32, many: i32): usize {
  while (count > 0) {
    if (many > 0 && count >= long) {
      let k = 0;
      while (k + 1 < many && long << (k + 1) <= count) k++;
      store<u8>(out++, sign + <u8>(short + k));
      count -= long << k;
    } else {
      const part = min(count, short);
      store<u8>(out++, sign + <u8>(part - 1));
      count -= part;
    }
  }
  return out;
}

/** Which of so many bytes are more than `least`: 1, or else 0. */
export function darker(bytes: usize, count: i32, least: i32, out: usize): void {
  const bound = i8x16.splat(<i8>least);
  const one = i8x16.splat(1);
  // Beyond the last byte there is room for the rest of a vector.
  for (let i: usize = 0; i < <usize>count; i += 16)
    v128.store(out + i, v128.and(i8x16.gt_u(v128.load(bytes + i), bound), one));
}
