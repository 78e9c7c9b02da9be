import type { PageBox } from '../../core/chart/types.ts';

/** Corner radius of what is lit, as a share of its height. */
const SOFT = 0.08;

/**
 * Covers the page with a veil of its own colour (--veil), all but what is lit. One path: cheap to redraw.
 * @param lit fractions of the page
 * @param aspect the page's width / height, for corners that are round and not oval
 */
export function Veil({ lit, aspect = 1 / Math.SQRT2 }: { lit: readonly PageBox[]; aspect?: number }) {
  const holes = joined(lit).map((box) => softRect(box, aspect));
  return (
    <svg class="veil" viewBox="0 0 1 1" preserveAspectRatio="none" aria-hidden="true">
      <path fill-rule="evenodd" d={`M0 0H1V1H0Z${holes.join('')}`} />
    </svg>
  );
}

/** Boxes that touch on one line become one, so that no line of veil or round corner stands between bars. */
export function joined(boxes: readonly PageBox[]): PageBox[] {
  const result: PageBox[] = [];
  for (const box of [...boxes].sort((a, b) => a[1] - b[1] || a[0] - b[0])) {
    const last = result.at(-1);
    const sameLine = last && Math.abs(last[1] - box[1]) < 1e-6 && Math.abs(last[3] - box[3]) < 1e-6;
    if (last && sameLine && box[0] <= last[2] + 1e-3)
      result[result.length - 1] = [last[0], last[1], Math.max(last[2], box[2]), last[3]];
    else result.push(box);
  }
  return result;
}

function softRect([x0, y0, x1, y1]: PageBox, aspect: number): string {
  const ry = Math.min((y1 - y0) * SOFT, ((x1 - x0) * aspect) / 2);
  const rx = Math.min(ry / aspect, (x1 - x0) / 2);
  const corner = (x: number, y: number) => `A${rx} ${ry} 0 0 1 ${x} ${y}`;
  return (
    `M${x0 + rx} ${y0}H${x1 - rx}${corner(x1, y0 + ry)}V${y1 - ry}${corner(x1 - rx, y1)}` +
    `H${x0 + rx}${corner(x0, y1 - ry)}V${y0 + ry}${corner(x0 + rx, y0)}Z`
  );
}
