export { convolve, normalised } from './net';
export { countsIn, deepen, greyOfRgb, lineProfile, plainProfile, takenInRow } from './page';
export { fillRow } from './pull';
export { combs, inkBetween, lineAlong, product } from './staves';
export { ridges, softened } from './levels';
