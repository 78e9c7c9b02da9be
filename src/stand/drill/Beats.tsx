import type { PlacedBox } from '../../core/chart/types.ts';
import type { Light } from './light.ts';

/** How many of a bar's beats fall on each of its boxes: a bar broken over two lines has two. */
export function shareBeats(boxes: readonly PlacedBox[], beats: number): number[] {
  const whole = Math.ceil(beats);
  if (boxes.length < 2) return boxes.map(() => whole);
  const widths = boxes.map(({ box }) => box[2] - box[0]);
  const total = widths.reduce((a, b) => a + b, 0);
  const first = Math.min(whole - 1, Math.max(1, Math.round((whole * widths[0]!) / total)));
  return [first, whole - first];
}

/** The beats as strokes under the bar being played: those gone are full, the one sounding is thick, those to come pale. */
export function Beats({ boxes, light, page }: { boxes: readonly PlacedBox[]; light: Light; page: number }) {
  const shares = shareBeats(boxes, light.beats);
  let first = 0;
  return (
    <>
      {boxes.map((placed, i) => {
        const start = first;
        const count = shares[i] ?? 0;
        first += count;
        return placed.page === page ? (
          <OnPage key={i} placed={placed} count={count} start={start} light={light} />
        ) : null;
      })}
    </>
  );
}

interface OnPageProps {
  readonly placed: PlacedBox;
  readonly count: number;
  readonly start: number;
  readonly light: Light;
}

function OnPage({ placed, ...beats }: OnPageProps) {
  const [x0, y0, x1, y1] = placed.box;
  // A staff has four spaces; in a system of several staves a stroke never grows past a single staff's.
  const space = Math.min((y1 - y0) / 4, 0.012);
  const top = Math.min(placed.reach[3], y1 + UNDER * space);
  return <Strokes {...beats} x0={x0} x1={x1} top={top} space={space} of={1} />;
}

/** Staff spaces from the bottom line to the strokes: clear of what hangs under the staff. */
const UNDER = 4.2;

export interface StrokesProps {
  /** So many of the bar's beats, the first of them `start`. */
  readonly count: number;
  readonly start: number;
  readonly light: Light;
  /** Left and right bar line, top of the strokes and a staff space, in the measure of `of`. */
  readonly x0: number;
  readonly x1: number;
  readonly top: number;
  readonly space: number;
  /** Width and height of what it lies on: one for both on a page in fractions. */
  readonly of: number | { readonly width: number; readonly height: number };
}

/** A row of strokes, at least one staff space thick. */
export function Strokes({ count, start, light, x0, x1, top, space, of }: StrokesProps) {
  const whole = typeof of === 'number' ? { width: of, height: of } : of;
  const width = (x1 - x0) / count;
  const across = (x: number) => `${(100 * x) / whole.width}%`;
  const down = (y: number) => `${(100 * y) / whole.height}%`;
  return (
    <>
      {Array.from({ length: count }, (_, i) => {
        const when = whenOf(start + i, light);
        const thick = when === 'now' ? 1.9 : 1;
        return (
          <i
            key={i}
            class={`beat beat-${when}`}
            data-beat={when}
            style={{
              left: across(x0 + (i + 0.06) * width),
              width: across(0.88 * width),
              top: down(top - (thick - 1) * 0.5 * space),
              height: down(thick * space),
            }}
          />
        );
      })}
    </>
  );
}

function whenOf(beat: number, light: Light): 'landing' | 'gone' | 'now' | 'to-come' {
  if (light.landing) return 'landing';
  if (beat === light.beat) return 'now';
  return beat < light.beat ? 'gone' : 'to-come';
}
