/** What the fields take (common practice, no source): beyond these a slip of the finger is likelier than a wish. */
export const SLOWEST = 20;
export const FASTEST = 400;
export const WIDEST_STEP = 100;
export const MOST_IN_A_ROW = 50;
