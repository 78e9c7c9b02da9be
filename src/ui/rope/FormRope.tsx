import './rope.css';
import { TightKnot } from './strand.tsx';

export interface FormPart {
  readonly name: string;
  /** Its music has come before on the route: drawn quiet. */
  readonly again: boolean;
  readonly current?: boolean;
}

const PART = 108;
/** A part is never narrower than a finger or its name, CSS px: beyond what fits the rope scrolls. */
const FINGER = 44;
const LETTER = 15;
/** Room for half a knot at either end. */
const END = 32;

/** The form as letters along a knotted rope; a letter is pressed to go there. */
export function FormRope({
  parts,
  pick,
  name,
}: {
  readonly parts: readonly FormPart[];
  readonly pick?: (index: number) => void;
  readonly name: string;
}) {
  const length = parts.length * PART + 2 * END;
  const narrowest = Math.max(FINGER, ...parts.map(({ name }) => name.length * LETTER));
  const minWidth = `${(narrowest * length) / PART}px`;
  return (
    <nav class="form-rope" aria-label={name}>
      <div class="form-letters" style={{ minWidth, paddingInline: `${(100 * END) / length}%` }}>
        {parts.map((part, i) => (
          <button
            key={i}
            class={part.again ? 'plain again' : 'plain'}
            aria-current={part.current}
            onClick={() => pick?.(i)}
          >
            {part.name}
          </button>
        ))}
      </div>
      <svg viewBox={`0 0 ${length} 44`} style={{ minWidth }} aria-hidden="true">
        <path d={`M0 22H${length}`} class="strand-edge" />
        <path d={`M0 22H${length}`} class="strand" />
        <path
          d={Array.from(
            { length: Math.floor(length / 8) },
            (_, i) => `M${8 * i + 1} 27L${8 * i + 7} 17`,
          ).join('')}
          class="strand-lay"
        />
        {Array.from({ length: parts.length + 1 }, (_, i) => (
          <g key={i} transform={`translate(${END + i * PART} 22) scale(0.62)`}>
            <TightKnot />
          </g>
        ))}
      </svg>
    </nav>
  );
}
