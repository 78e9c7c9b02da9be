import { signal, type ReadonlySignal } from '@preact/signals';
import type { Piece, Setting } from '../../../core/drill/setting.ts';
import type { StandView } from '../../mode.ts';
import { tidy } from '../../view/tidy.ts';

/** Pictures kept: so many device pixels, four bytes each. Two long spans on a sharp screen. */
const KEPT_PIXELS = 24e6;

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
          const canvas = await view.cut(piece.page, piece.source, setting.scale * setting.density, stop);
          stop.throwIfAborted();
          tidy(
            canvas,
            piece.rim * setting.density,
            line.boxes[0]!.staff * setting.density,
            view.levels(piece.page),
          );
          keep(key, canvas);
        }
        each?.();
      }
    },
  };
}
