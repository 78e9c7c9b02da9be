import './rope.css';

export interface Rung {
  readonly bpm: number;
  readonly done: number;
  readonly steps: number;
}

/** The ladder standing: one rung a tempo, filled from the left as far as its steps are done. */
export function Ladder({
  rungs,
  current,
  name,
}: {
  rungs: readonly Rung[];
  current: number | null;
  name: string;
}) {
  const gap = Math.max(22, Math.min(34, 240 / rungs.length));
  const height = gap * (rungs.length + 0.6);
  return (
    <svg
      class="ladder"
      viewBox={`0 0 190 ${height}`}
      width="190"
      height={height}
      role="img"
      aria-label={name}
    >
      {[14, 134].map((x) => (
        <g key={x}>
          <path d={`M${x} 0V${height}`} class="side" />
          <path d={`M${x} 0V${height}`} class="side-lay" />
        </g>
      ))}
      {rungs.map(({ bpm, done, steps }, i) => {
        const y = height - (i + 0.8) * gap;
        const share = steps > 0 ? done / steps : 0;
        return (
          <g key={`${bpm}-${i}`}>
            <path d={`M12 ${y}H136`} class="rung" />
            {share > 0 && <path d={`M12 ${y}H${12 + 124 * share}`} class="climbed" />}
            <text x="154" y={y + 5} class={bpm === current ? 'now' : ''}>
              {bpm}
            </text>
          </g>
        );
      })}
    </svg>
  );
}
