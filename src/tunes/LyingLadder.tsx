import type { Card } from '../core/log/card.ts';
import { t } from '../host/i18n.ts';
import { climbed } from './describe.ts';

/** The ladder lying on its side, the start at the left: a rung a tempo, filled from the foot as far as its steps are done. */
export function LyingLadder({ rungs }: { rungs: Card['rungs'] }) {
  const gap = 190 / Math.max(rungs.length, 1);
  return (
    <svg
      class="lying-ladder"
      viewBox="0 0 190 34"
      preserveAspectRatio="xMinYMid"
      role="img"
      aria-label={t('tunes_ladder', climbed(rungs), rungs.length)}
    >
      <path class="side" d="M0 4H190M0 30H190" />
      {rungs.map(({ bpm, done, steps }, i) => {
        const x = (i + 0.5) * gap;
        const height = steps > 0 ? (22 * done) / steps : 0;
        return (
          <g key={`${bpm}-${i}`}>
            <path class="rung" d={`M${x} 6V28`} />
            {done > 0 && <path class="climbed" d={`M${x} 28V${28 - height}`} />}
          </g>
        );
      })}
    </svg>
  );
}
