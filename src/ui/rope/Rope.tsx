import type { Knot } from '../../core/log/state.ts';
import './rope.css';

/** One place along the rope, in its own units; the rope runs upward, y from PLACE / 2 to -PLACE / 2. */
const PLACE = 80;
const HALF = PLACE / 2;

/** A figure of eight lying across the rope, its first diagonal drawn again on top so that it crosses over. */
const EIGHT = 'M-17 13C-36 13-36-13-17-13C-4-13 4 13 17 13C36 13 36-13 17-13C4-13-4 13-17 13Z';
const OVER = 'M-13-12.4C-2-9 2 9 13 12.4';
/** A loop nobody has pulled tight: the rope wanders from side to side, and leaves a hole. */
const LOOP = 'M0 40C0 30-2 24 6 19C22 9 34 3 26-9C18-19 6-7-6-1C-18 5-32 1-28-10C-24-21-2-18 0-40';

function Strand({ d }: { d: string }) {
  return (
    <>
      <path d={d} class="strand-edge" />
      <path d={d} class="strand" />
      <path d={d} class="strand-lay" />
    </>
  );
}

const STRAIGHT = `M0 ${HALF}V-${HALF}`;

function Place({ knot, newest }: { knot: Knot | undefined; newest: boolean }) {
  const tie = knot?.tie ?? 'empty';
  return (
    <>
      {newest && <circle r="36" class="halo" />}
      {tie === 'gap' ? (
        <>
          <Strand d={`M0 ${HALF}V18`} />
          <Strand d={`M0-18V-${HALF}`} />
          <path d="M-9 18H9M-9-18H9" class="whipping" />
        </>
      ) : (
        <Strand d={tie === 'loose' ? LOOP : STRAIGHT} />
      )}
      {tie === 'empty' && <circle r="11.5" class="hole" />}
      {tie === 'tight' && (
        <>
          <Strand d={EIGHT} />
          <Strand d={OVER} />
        </>
      )}
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
        {cells}
      </svg>
    </div>
  );
}
