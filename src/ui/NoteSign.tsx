import type { BeatUnit } from '../core/chart/types.ts';

const shape: Record<BeatUnit, { filled: boolean; flags: number; dotted: boolean }> = {
  sixteenth: { filled: true, flags: 2, dotted: false },
  eighth: { filled: true, flags: 1, dotted: false },
  'dotted-eighth': { filled: true, flags: 1, dotted: true },
  quarter: { filled: true, flags: 0, dotted: false },
  'dotted-quarter': { filled: true, flags: 0, dotted: true },
  half: { filled: false, flags: 0, dotted: false },
  'dotted-half': { filled: false, flags: 0, dotted: true },
};

/** The beat's unit as a note, drawn as high as a capital letter of the text around it. */
export function NoteSign({ unit, name }: { unit: BeatUnit; name: string }) {
  const { filled, flags, dotted } = shape[unit];
  return (
    <svg
      class="note-sign"
      viewBox={`0 0 ${dotted || flags ? 32 : 22} 52`}
      height="0.86em"
      role="img"
      aria-label={name}
    >
      <ellipse
        cx="10"
        cy="43"
        rx="8.4"
        ry="6"
        transform="rotate(-22 10 43)"
        fill={filled ? 'currentColor' : 'none'}
        stroke="currentColor"
        stroke-width={filled ? 1 : 3}
      />
      <path d="M17.4 41V2" stroke="currentColor" stroke-width="3" fill="none" />
      {Array.from({ length: flags }, (_, i) => (
        <path
          key={i}
          d={`M17.4 ${2 + i * 11}C19 13 30 15 25 29`}
          transform={`translate(0 ${i * 2})`}
          stroke="currentColor"
          stroke-width="3"
          fill="none"
        />
      ))}
      {dotted && <circle cx="27" cy="42" r="3.4" fill="currentColor" />}
    </svg>
  );
}
