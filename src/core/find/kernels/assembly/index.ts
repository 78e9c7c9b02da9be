export { convolve, normalised, squares, sum } from './net';
export { around, deepen, greyOfBits, greyOfRgb, lineProfile, papers, plainProfile, takenFrom } from './page';
export { fillRow, sharpness } from './pull';
export { gathered, summed } from './reduce';
export { combs, inkBetween, lineAlong, longestRuns, product, thinRows } from './staves';
export { blobs } from './blobs';
export { ridges, softened } from './levels';
export { coarseStaff, darker, faded, fineStaff, inkRows, masked, packed, rowsOf } from './pictures';
