export { convolve, normalised } from './net';
export { countsIn, deepen, greyOfRgb, lineProfile, plainProfile, takenInRow } from './page';
export { fillRow, sharpness } from './pull';
export { combs, inkBetween, lineAlong, longestRuns, product, thinRows } from './staves';
export { blobs } from './blobs';
export { ridges, softened } from './levels';
export { coarseStaff, darker, faded, fineStaff, masked, packed } from './pictures';
