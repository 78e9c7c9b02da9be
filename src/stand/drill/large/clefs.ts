import { signal } from '@preact/signals';
import { clefEnd, CLEF_LOOK } from '../../../core/drill/clef.ts';
import type { ClefEnd, Cut } from '../../../core/drill/cuts.ts';
import type { StandView } from '../../mode.ts';

/** Where clef and key signature end is seen at a staff of so many device px. */
const STAFF = 48;
/** Darker than this share of the lightest, a pixel is ink. */
const INK = 0.6;

/** Looks where on each line clef and key signature end: marks do not hold it. */
export interface Clefs {
  readonly end: ClefEnd;
  /** Looks at the lines that need a clef in front and have not been looked at. */
  look(cuts: readonly Cut[], stop: AbortSignal): Promise<void>;
}

export function createClefs(view: StandView): Clefs {
  const ends = signal<ReadonlyMap<string, number | null>>(new Map());
  const keyOf = (page: number, top: number) => `${page} ${top}`;
  return {
    end: (page, top) => ends.value.get(keyOf(page, top)) ?? null,
    async look(cuts, stop) {
      const seen = new Map(ends.peek());
      for (const { placed, line, staff } of cuts) {
        const key = keyOf(line.page, line.top);
        if (seen.has(key) || placed.box[0] <= line.x0) continue;
        const { width, height } = view.sizes[line.page]!;
        const fine = STAFF / staff;
        const left = Math.round(line.x0 * width * fine);
        const most = Math.round(line.firstEnd * width * fine) - left;
        const area = {
          left,
          top: Math.round(line.top * height * fine),
          width: Math.min(Math.round(CLEF_LOOK * STAFF), most),
          height: STAFF,
        };
        const columns = clefEnd(inkOf(await view.cut(line.page, area, fine, stop)), STAFF);
        stop.throwIfAborted();
        seen.set(key, columns === null ? null : (left + columns) / (width * fine));
      }
      if (seen.size > ends.peek().size) ends.value = seen;
    },
  };
}

/** Share of each column that is ink. */
function inkOf(canvas: HTMLCanvasElement): number[] {
  const { width, height } = canvas;
  const context = canvas.getContext('2d');
  if (!context) return [];
  const { data } = context.getImageData(0, 0, width, height);
  const light = Array.from({ length: width * height }, (_, i) => data[4 * i + 1]!);
  const paper = light.reduce((most, value) => Math.max(most, value), 0);
  return Array.from({ length: width }, (_, x) => {
    let ink = 0;
    for (let y = 0; y < height; y++) if (light[y * width + x]! < INK * paper) ink++;
    return ink / height;
  });
}
