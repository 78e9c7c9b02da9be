import { signal, type ReadonlySignal } from '@preact/signals';
import type { Area, Piece, Setting } from '../../../core/drill/setting.ts';
import type { StandView } from '../../mode.ts';
import { tidy } from '../../view/tidy.ts';

/** Pictures kept: so many device pixels, four bytes each. Two long spans on a sharp screen. */
const KEPT_PIXELS = 24e6;

/** Staff heights around a cut that are looked at for what its edges cut through: words, the next line's chords and brackets. */
const AROUND = 0.5;

/** Cut pieces as they have been drawn, the last used ones kept. */
export interface Pictures {
  /** Changes whenever a picture has come. */
  readonly drawn: ReadonlySignal<number>;
  get(piece: Piece, setting: Setting): HTMLCanvasElement | null;
  /** Draws what is missing, line after line from the top. `each` is told after every line. */
  draw(setting: Setting, signal: AbortSignal, each?: () => void): Promise<void>;
}

const keyOf = ({ page, source: { left, top, width, height } }: Piece, { scale, density }: Setting) =>
  [page, left, top, width, height, scale * density].join(' ');

export function createPictures(view: StandView): Pictures {
  const kept = new Map<string, HTMLCanvasElement>();
  const drawn = signal(0);

  const keep = (key: string, canvas: HTMLCanvasElement) => {
    kept.set(key, canvas);
    let pixels = [...kept.values()].reduce((sum, { width, height }) => sum + width * height, 0);
    // A map gives its oldest first; what is used again is put at its end.
    for (const [old, { width, height }] of kept) {
      if (pixels <= KEPT_PIXELS || old === key) break;
      kept.delete(old);
      pixels -= width * height;
    }
    drawn.value++;
  };

  return {
    drawn,
    get(piece, setting) {
      const key = keyOf(piece, setting);
      const canvas = kept.get(key);
      if (!canvas) return null;
      kept.delete(key);
      kept.set(key, canvas);
      return canvas;
    },
    async draw(setting, stop, each) {
      for (const line of setting.lines) {
        for (const piece of line.pieces) {
          const key = keyOf(piece, setting);
          if (kept.has(key)) continue;
          const staff = line.boxes[0]!.staff * setting.density;
          const around = Math.round(AROUND * staff);
          const more = outwards(piece.source, around);
          const canvas = await view.cut(piece.page, more, setting.scale * setting.density, stop);
          stop.throwIfAborted();
          tidy(canvas, { band: piece.rim * setting.density, around }, staff, view.levels(piece.page));
          keep(key, inner(canvas, around));
        }
        each?.();
      }
    },
  };
}

const outwards = ({ left, top, width, height }: Area, by: number): Area => ({
  left: left - by,
  top: top - by,
  width: width + 2 * by,
  height: height + 2 * by,
});

/** A picture without what lies so many px inside its edges. */
function inner(picture: HTMLCanvasElement, by: number): HTMLCanvasElement {
  const canvas = document.createElement('canvas');
  [canvas.width, canvas.height] = [picture.width - 2 * by, picture.height - 2 * by];
  canvas.getContext('2d')?.drawImage(picture, -by, -by);
  return canvas;
}
