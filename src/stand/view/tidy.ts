import { evenLight } from '../../core/drill/evened.ts';
import { clearFragments, type Cutting } from '../../core/drill/fragments.ts';
import type { Levels } from '../../pdf/levels.ts';

/** What stands beyond a bar line or before a staff, a bar number, reaches so far into a cut at most, in staff heights. */
const SIDE = 0.15;

/**
 * Evens the light of a cut from a scan, and clears what stands at its edges of other things.
 * @param cutting px of the canvas, as are all lengths here; without `side`, which is told from the staff
 * @param staff height of a staff
 */
export function tidy(
  canvas: HTMLCanvasElement,
  cutting: Omit<Cutting, 'side'>,
  staff: number,
  levels: Levels,
): void {
  const { scan, paper, ink } = levels;
  const context = canvas.getContext('2d');
  if (!context) return;
  const { width, height } = canvas;
  const picture = context.getImageData(0, 0, width, height);
  if (scan) evenLight(picture.data, width, height, staff, levels);
  const whole = { ...cutting, band: Math.round(cutting.band), side: Math.round(SIDE * staff) };
  clearFragments(picture.data, width, height, whole, scan ? { paper, ink } : null);
  context.putImageData(picture, 0, 0);
}
