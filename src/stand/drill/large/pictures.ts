import { signal } from '@preact/signals';
import type { Area, Piece, Setting } from '../../../core/drill/setting.ts';
import type { StandView } from '../../mode.ts';
import { asideOf, tidy, tidyCut, type CutPicture } from '../../view/tidy.ts';

/** Pictures kept: so many device pixels, four bytes each. Two long spans on a sharp screen. */
const KEPT_PIXELS = 24e6;

/** Staff heights around a cut that are looked at for what its edges cut through: words, the next line's chords and brackets. */
const AROUND = 0.5;

/** Cut pieces as they have been drawn, the last used ones kept. */
export interface Pictures {
  /** What reads it is told whenever a picture has come. */
  get(piece: Piece, setting: Setting): CutPicture | null;
  /** Draws what is missing, line after line from the top. `each` is told after every line. */
  draw(setting: Setting, signal: AbortSignal, each?: () => void): Promise<void>;
}

const keyOf = ({ page, source: { left, top, width, height } }: Piece, { scale, density }: Setting) =>
  [page, left, top, width, height, scale * density].join(' ');

export function createPictures(view: StandView): Pictures {
  const kept = new Map<string, CutPicture>();
  const drawn = signal(0);

  const keep = (key: string, picture: CutPicture) => {
    kept.set(key, picture);
    let pixels = [...kept.values()].reduce((sum, each) => sum + sizeOf(each), 0);
    // A map gives its oldest first; what is used again is put at its end.
    for (const [old, each] of kept) {
      if (pixels <= KEPT_PIXELS || old === key) break;
      kept.delete(old);
      pixels -= sizeOf(each);
    }
    drawn.value++;
  };

  return {
    get(piece, setting) {
      if (drawn.value === 0) return null;
      const key = keyOf(piece, setting);
      const picture = kept.get(key);
      if (!picture) return null;
      kept.delete(key);
      kept.set(key, picture);
      return picture;
    },
    async draw(setting, stop, each) {
      for (const line of setting.lines) {
        for (const piece of line.pieces) {
          const key = keyOf(piece, setting);
          if (kept.has(key)) continue;
          keep(key, await drawPiece(view, piece, setting, line.boxes[0]!.staff, stop));
        }
        each?.();
      }
    },
  };
}

async function drawPiece(
  view: StandView,
  { page, source, rim, staves }: Piece,
  { scale, density }: Setting,
  staffPx: number,
  stop: AbortSignal,
): Promise<CutPicture> {
  const staff = staffPx * density;
  const around = Math.round(AROUND * staff);
  const more = outwards(source, staves ? asideOf(staff) : around, around);
  const canvas = await view.cut(page, more, scale * density, stop);
  stop.throwIfAborted();
  const band = rim * density;
  if (staves) return tidyCut(canvas, band, { around, staves }, staff, view.levels(page));
  tidy(canvas, { band, around }, staff, view.levels(page));
  return { canvas: inner(canvas, around), beside: [] };
}

const sizeOf = ({ canvas, beside }: CutPicture): number =>
  [canvas, ...beside.map((part) => part.canvas)].reduce((sum, { width, height }) => sum + width * height, 0);

const outwards = ({ left, top, width, height }: Area, aside: number, around: number): Area => ({
  left: left - aside,
  top: top - around,
  width: width + 2 * aside,
  height: height + 2 * around,
});

/** A picture without what lies so many px inside its edges. */
function inner(picture: HTMLCanvasElement, by: number): HTMLCanvasElement {
  const canvas = document.createElement('canvas');
  [canvas.width, canvas.height] = [picture.width - 2 * by, picture.height - 2 * by];
  canvas.getContext('2d')?.drawImage(picture, -by, -by);
  return canvas;
}
