import { useEffect, useRef } from 'preact/hooks';
import type { PlacedBox } from '../../core/chart/types.ts';
import type { StandView } from '../mode.ts';
import { tidy } from '../view/tidy.ts';

interface BarPictureProps {
  readonly view: StandView;
  readonly bar: PlacedBox;
  /** The most it may take, CSS px. */
  readonly width: number;
  /** Height of its staff, CSS px; less where it would be too wide. */
  readonly staff: number;
}

/** What reaches no further into the picture, in staff heights, is left of something beyond it. */
const RIM = 0.15;

/** Pages are drawn one after the other: each takes the room of a page while it is drawn. */
let before: Promise<unknown> = Promise.resolve();

/** A bar with its chord symbols, cut from the page. */
export function BarPicture({ view, bar, width, staff }: BarPictureProps) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const { page, box, reach } = bar;
  const size = view.sizes[page]!;
  const scale = Math.min(
    staff / ((box[3] - box[1]) * size.height),
    width / ((reach[2] - reach[0]) * size.width),
  );
  const across = (reach[2] - reach[0]) * size.width * scale;
  const down = (reach[3] - reach[1]) * size.height * scale;
  useEffect(() => {
    const left = new AbortController();
    const density = devicePixelRatio;
    const device = (fraction: number, length: number) => Math.round(fraction * length * scale * density);
    const area = {
      left: device(reach[0], size.width),
      top: device(reach[1], size.height),
      width: Math.ceil(across * density),
      height: Math.ceil(down * density),
    };
    const draw = async () => {
      left.signal.throwIfAborted();
      const picture = await view.cut(page, area, scale * density, left.signal);
      const high = device(box[3] - box[1], size.height);
      tidy(picture, { band: RIM * high }, high, view.levels(page));
      const shown = canvas.current;
      if (!shown) return;
      [shown.width, shown.height] = [picture.width, picture.height];
      shown.getContext('2d')?.drawImage(picture, 0, 0);
    };
    // What cannot be drawn stays blank: the page itself shows it.
    before = before.then(draw).catch(() => undefined);
    return () => left.abort();
  }, [view, page, scale, ...reach]);
  const { day, stage } = view.look(page);
  return (
    <canvas
      ref={canvas}
      class="marks-piece"
      style={{ width: `${across}px`, height: `${down}px`, '--look-day': day, '--look-stage': stage }}
      aria-hidden="true"
    />
  );
}
