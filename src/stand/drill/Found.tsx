import type { ReadonlySignal } from '@preact/signals';
import { doubtsOf } from '../../core/chart/found.ts';
import { turnOn, turnsOf } from '../../core/chart/turn.ts';
import type { Marks, Plan } from '../../core/chart/types.ts';
import { writtenBars } from '../../core/chart/written.ts';
import { costOf, stepsOf, usualGaps } from '../../core/ladder/index.ts';
import { plural, t } from '../../host/i18n.ts';
import type { Settings } from '../../store/types.ts';
import { sayMinutes } from '../plan/words.ts';

interface FoundProps {
  readonly marks: Marks;
  readonly plan: Plan;
  /** Stretches that look alike and have not been asked about. */
  readonly alike: number;
  readonly settings: ReadonlySignal<Settings>;
  readonly look: () => void;
}

/** Before the first pass on bars that the page itself has told: what they cost, and what is left in doubt. */
export function Found({ marks, plan, alike, settings, look }: FoundProps) {
  const bars = writtenBars(marks).filter(({ pickup }) => pickup === 0);
  const doubts = doubtsOf(marks).length;
  const { drill } = settings.value;
  const isTurned = marks.systems.some(({ page }) => turnOn(turnsOf(marks), page) !== 0);
  const steps = stepsOf(plan);
  const cost = costOf(steps, plan, plan.numbers.start, {
    ...usualGaps,
    gap: drill.gap,
    countIn: drill.countIn,
  });
  return (
    <div class="drill-found" data-found={bars.length} data-doubts={doubts} data-alike={alike}>
      <p class="drill-small">
        {plural('drill_found', bars.length)} {doubts > 0 && <b>{plural('drill_found_doubts', doubts)} </b>}
        {t('drill_found_cost', steps.length, sayMinutes(cost.minutes))}
      </p>
      {alike > 0 && <p class="drill-small">{plural('drill_found_alike', alike)}</p>}
      {isTurned && <p class="drill-small">{t('drill_found_turned')}</p>}
      <p>
        <button class="plain" data-command="look" onClick={look}>
          {t('drill_found_look')}
        </button>
      </p>
    </div>
  );
}

/** Nobody has touched or played what was found. */
export const isAsFound = (marks: Marks, passes: number): boolean =>
  passes === 0 && marks.systems.some(({ bars }) => bars.some(({ found }) => found !== undefined));
