import type { Numbers } from '../chart/types.ts';

type Tempi = Pick<Numbers, 'start' | 'step' | 'goal' | 'doubleStepAbove' | 'repeatedRungs'>;

/**
 * The tempi of the ladder in bpm, upward; the last is always the goal. From `doubleStepAbove` on the step
 * doubles; a repeated rung is there twice. A start at or above the goal gives the goal alone.
 * Throws RangeError for a step that leads nowhere.
 */
export function rungsOf(numbers: Tempi): number[] {
  const { start, step, goal, doubleStepAbove, repeatedRungs } = numbers;
  if (!(step > 0)) throw new RangeError('the tempo step must be above 0');
  const tempi: number[] = [];
  let bpm = start;
  while (bpm < goal) {
    tempi.push(bpm);
    bpm += doubleStepAbove !== null && bpm >= doubleStepAbove ? 2 * step : step;
  }
  tempi.push(goal);
  return tempi.flatMap((tempo) => (repeatedRungs.includes(tempo) ? [tempo, tempo] : [tempo]));
}
