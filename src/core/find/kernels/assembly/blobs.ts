/** Ink that hangs together. */

/**
 * The boxes around what hangs together of a picture's pixels that are 1, eight neighbours counted: four words for each,
 * left, right, top and bottom, the last of each left out. Gives how many there are. Every pixel of them becomes 2.
 * @param room for as many words as the picture has pixels: runs of ink whose neighbours have not been looked at
 * @param found room for boxes: a picture has at most one for every four of its pixels, and half a row
 */
export function blobs(ink: usize, width: i32, height: i32, room: usize, found: usize): i32 {
  let count = 0;
  const size = width * height;
  for (let start = 0; start < size; start++) {
    if (start + 16 <= size && !v128.any_true(v128.load(ink + <usize>start))) {
      start += 15;
      continue;
    }
    if (load<u8>(ink + <usize>start) !== 1) continue;
    let x0 = width;
    let x1 = 0;
    let y0 = height;
    let y1 = 0;
    let top = pushRun(ink, width, start, room);
    while (top > room) {
      top -= 8;
      const first = load<i32>(top);
      const last = load<i32>(top, 4);
      const y = first / width;
      const row = y * width;
      x0 = min(x0, first - row);
      x1 = max(x1, last - row);
      y0 = min(y0, y);
      y1 = max(y1, y);
      const left = max(row, first - 1);
      const right = min(row + width - 1, last + 1);
      if (y > 0)
        for (let at = left - width; at <= right - width; at++)
          if (load<u8>(ink + <usize>at) === 1) top = pushRun(ink, width, at, top);
      if (y + 1 < height)
        for (let at = left + width; at <= right + width; at++)
          if (load<u8>(ink + <usize>at) === 1) top = pushRun(ink, width, at, top);
    }
    const box = found + ((<usize>count) << 4);
    store<i32>(box, x0);
    store<i32>(box, x1 + 1, 4);
    store<i32>(box, y0, 8);
    store<i32>(box, y1 + 1, 12);
    count++;
  }
  return count;
}

/** Paints the run of ink around a place with 2 and puts its ends where `top` says. Gives what is behind them. */
function pushRun(ink: usize, width: i32, at: i32, top: usize): usize {
  const row = at - (at % width);
  let first = at;
  let last = at;
  while (first > row && load<u8>(ink + <usize>(first - 1)) === 1) first--;
  while (last + 1 < row + width && load<u8>(ink + <usize>(last + 1)) === 1) last++;
  memory.fill(ink + <usize>first, 2, <usize>(last - first + 1));
  store<i32>(top, first);
  store<i32>(top, last, 4);
  return top + 8;
}
