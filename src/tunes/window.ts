/** Which rows of a long list are drawn. Rows are all of one height. */

export interface Rows {
  readonly from: number;
  /** Not included. */
  readonly to: number;
}

/** Rows drawn beyond what is seen, so that scrolling and tabbing find them there. */
const BEYOND = 6;
/** The first row drawn is a multiple of this: not every turn of a wheel draws the list anew. */
const STEP = 4;

/**
 * @param count rows in all
 * @param height of a row, px
 * @param above px of the list that have been scrolled past; negative while its head is in view
 * @param seen height of the window, px
 */
export function rowsIn(count: number, height: number, above: number, seen: number): Rows {
  const first = Math.floor(above / height) - BEYOND;
  const last = Math.ceil((above + seen) / height) + BEYOND;
  const from = Math.max(0, Math.floor(first / STEP) * STEP);
  const to = Math.min(count, Math.ceil(last / STEP) * STEP);
  return { from: Math.min(from, count), to: Math.max(to, Math.min(from, count)) };
}
