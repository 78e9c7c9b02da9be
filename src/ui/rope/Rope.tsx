import { useLayoutEffect, useRef } from 'preact/hooks';
import type { Knot } from '../../core/log/state.ts';
import './rope.css';
import { Strand, TightKnot } from './strand.tsx';

/** One place along the rope, in its own units; the rope runs upward, y from PLACE / 2 to -PLACE / 2. */
const PLACE = 80;
const HALF = PLACE / 2;
/** How far the rope runs on beyond its places. */
const RUN_ON = 400;
/** A loop nobody has pulled tight: the rope wanders from side to side, and leaves a hole. */
const LOOP = 'M0 40C0 30-2 24 6 19C22 9 34 3 26-9C18-19 6-7-6-1C-18 5-32 1-28-10C-24-21-2-18 0-40';

/** A straight length of laid rope, from y = `from` up to `to`; the lay is the slant of its strands. */
function Straight({ from, to }: { from: number; to: number }) {
  const marks = Array.from(
    { length: Math.floor((from - to) / 8) },
    (_, i) => `M-5 ${from - 8 * i - 1}L5 ${from - 8 * i - 7}`,
  );
  return (
    <>
      <path d={`M0 ${from}V${to}`} class="strand-edge" />
      <path d={`M0 ${from}V${to}`} class="strand" />
      <path d={marks.join('')} class="strand-lay" />
    </>
  );
}

function Place({ knot, newest }: { knot: Knot | undefined; newest: boolean }) {
  const tie = knot?.tie ?? 'empty';
  return (
    <>
      {newest && <circle r="36" class="halo" />}
      {tie === 'gap' ? (
        <>
          <Straight from={HALF} to={18} />
          <Straight from={-18} to={-HALF} />
          <path d="M-9 18H9M-9-18H9" class="whipping" />
        </>
      ) : tie === 'loose' ? (
        <Strand d={LOOP} />
      ) : (
        <Straight from={HALF} to={-HALF} />
      )}
      {tie === 'empty' && <circle r="11.5" class="hole" />}
      {tie === 'tight' && <TightKnot />}
    </>
  );
}

export interface RopeProps {
  /** The streak that the step asks for. */
  readonly places: number;
  readonly knots: readonly Knot[];
  /** Upward at the side of a wide window, to the right at the head of an upright rail. */
  readonly direction: 'up' | 'right';
  /** What a screen reader says of it. */
  readonly name: string;
}

/**
 * The streak: a rope with a place for every pass that the step asks for. Voids stand between as gaps,
 * so the rope may be longer than `places`. Loose and tight differ in shape, not in colour alone.
 */
export function Rope({ places, knots, direction, name }: RopeProps) {
  const gaps = knots.filter((knot) => knot.tie === 'gap').length;
  const count = Math.max(places + gaps, knots.length);
  const length = count * PLACE;
  const rope = useRef<HTMLDivElement>(null);
  // Where the rope is longer than its window, the place of the next pass stays in sight.
  useLayoutEffect(() => {
    const { current: box } = rope;
    if (!box) return;
    const share = (Math.min(knots.length, count - 1) + 0.5) / count;
    if (direction === 'up') box.scrollTop = (1 - share) * box.scrollHeight - box.clientHeight / 2;
    else box.scrollLeft = share * box.scrollWidth - box.clientWidth / 2;
  }, [knots.length, count, direction]);
  const up = direction === 'up';
  const cells = Array.from({ length: count }, (_, i) => {
    const along = (i + 0.5) * PLACE;
    return (
      <g key={i} transform={up ? `translate(40 ${length - along})` : `translate(${along} 40) rotate(90)`}>
        <Place knot={knots[i]} newest={i === knots.length - 1} />
      </g>
    );
  });
  const by = (tie: Knot['tie']) => knots.filter((knot) => knot.tie === tie).length;
  return (
    <div
      ref={rope}
      class={`rope rope-${direction}`}
      role="img"
      aria-label={name}
      data-streak={by('tight') + by('loose')}
      data-tight={by('tight')}
      data-loose={by('loose')}
      data-places={places}
      style={{ '--count': count }}
    >
      <svg
        viewBox={up ? `0 0 80 ${length}` : `0 0 ${length} 80`}
        preserveAspectRatio="xMidYMid meet"
        aria-hidden="true"
      >
        {/* The rope runs on past its places, to the edges of the window. */}
        <g transform={up ? `translate(40 0)` : `translate(0 40) rotate(90)`}>
          <Straight from={up ? length + RUN_ON : RUN_ON} to={up ? length : 0} />
          <Straight from={up ? 0 : -length} to={up ? -RUN_ON : -length - RUN_ON} />
        </g>
        {cells}
      </svg>
    </div>
  );
}
