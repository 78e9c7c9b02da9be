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
          <Row key={i} placed={placed} count={count} start={start} light={light} />
        ) : null;
      })}
    </>
  );
}

interface RowProps {
  readonly placed: PlacedBox;
  readonly count: number;
  readonly start: number;
  readonly light: Light;
}

function Row({ placed, count, start, light }: RowProps) {
  const [x0, y0, x1, y1] = placed.box;
  // A staff has four spaces; in a system of several staves a stroke never grows past a single staff's.
  const space = Math.min((y1 - y0) / 4, 0.012);
  const width = (x1 - x0) / count;
  const top = Math.min(placed.reach[3], y1 + 4.2 * space);
  return (
    <>
      {Array.from({ length: count }, (_, i) => {
        const beat = start + i;
        const when = light.landing
          ? 'landing'
          : beat < light.beat
            ? 'gone'
            : beat === light.beat
              ? 'now'
              : 'to-come';
        const thick = when === 'now' ? 1.9 : 1;
        return (
          <i
            key={i}
            class={`beat beat-${when}`}
            data-beat={when}
            style={{
              left: `${100 * (x0 + (i + 0.06) * width)}%`,
              width: `${88 * width}%`,
              top: `${100 * (top - (thick - 1) * 0.5 * space)}%`,
              height: `${100 * thick * space}%`,
            }}
          />
        );
      })}
    </>
  );
}
