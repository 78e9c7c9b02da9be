import { evenLight } from '../../core/drill/evened.ts';
import { clearFragments } from '../../core/drill/fragments.ts';
import type { Levels } from '../../pdf/levels.ts';

/**
 * Evens the light of a cut from a scan, and clears what stands at its edges of other things.
 * @param band things at the upper and lower edge that reach no further in, device px
 * @param staff height of a staff, device px
 */
export function tidy(canvas: HTMLCanvasElement, band: number, staff: number, levels: Levels): void {
  const { scan, paper, ink } = levels;
  const context = canvas.getContext('2d');
  if (!context) return;
  const picture = context.getImageData(0, 0, canvas.width, canvas.height);
  if (scan) evenLight(picture.data, canvas.width, canvas.height, staff, levels);
  clearFragments(picture.data, canvas.width, canvas.height, Math.round(band), scan ? { paper, ink } : null);
  context.putImageData(picture, 0, 0);
}
