export { expectedPasses } from './chance.ts';
export { cheaper, type Cheaper, type Saving } from './cheaper.ts';
export { costOf, gapSeconds, ladderCost, secondsOf, usualGaps, type Gaps } from './cost.ts';
export { rungsOf } from './rungs.ts';
export { sameMusic } from './same.ts';
export { chainedSections, spanKey, stepsOf } from './steps.ts';
export type { Cost, Step } from './types.ts';
