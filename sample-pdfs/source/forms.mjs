/**
 * What the engraving does not tell: meter, sections, twins, repeats. Bars count from 1 over the full bars;
 * a pickup is bar 0. `asAt: [[9, 1, 8]]` says that the eight bars from 9 hold the music of the eight from 1.
 */
const common = { beats: 4, value: 4 };

export const forms = {
  first: { meter: common, bars: { 1: { section: 'A' } } },
  aaba: {
    meter: common,
    bars: { 1: { section: 'A' }, 9: { section: 'A' }, 17: { section: 'B' }, 25: { section: 'A' } },
    asAt: [
      [9, 1, 8],
      [25, 1, 8],
    ],
  },
  endings: {
    meter: common,
    bars: {
      1: { section: 'A', repeatStart: true },
      7: { ending: [1] },
      8: { ending: [1], repeatEnd: 2 },
      9: { ending: [2] },
      10: { ending: [2] },
      11: { section: 'B', repeatStart: true },
      18: { repeatEnd: 2 },
      19: { tied: true },
      20: { silent: true },
    },
  },
  waltz: {
    meter: { beats: 3, value: 4 },
    bars: { 0: { pickup: 1 }, 1: { section: 'A' }, 9: { section: 'B' } },
  },
  'two-pages': {
    meter: common,
    bars: {
      1: { section: 'A' },
      9: { section: 'A' },
      17: { section: 'B' },
      24: { silent: true },
      25: { section: 'C' },
      33: { section: 'A' },
      41: { section: 'Out' },
      43: { tied: true },
      44: { silent: true },
    },
    asAt: [
      [9, 1, 8],
      [33, 1, 8],
    ],
  },
  scanned: {
    meter: common,
    bars: {
      1: { section: 'A' },
      9: { section: 'B' },
      15: { tied: true },
      16: { silent: true },
    },
  },
};
