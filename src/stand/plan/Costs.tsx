import { useMemo } from 'preact/hooks';
import type { Numbers, Plan } from '../../core/chart/types.ts';
import {
  cheaper,
  costOf,
  ladderCost,
  rungsOf,
  stepsOf,
  type Cheaper,
  type Cost,
  type Gaps,
} from '../../core/ladder/index.ts';
import { plural, t } from '../../host/i18n.ts';
import { sayMinutes, saySavings } from './words.ts';

interface CostsProps {
  readonly plan: Plan;
  readonly bpm: number;
  readonly gaps: Gaps;
  readonly onChange: (numbers: Numbers) => void;
}

/** What a rung and the whole ladder cost if every pass is clean, and what would be cheaper. */
export function Costs({ plan, bpm, gaps, onChange }: CostsProps) {
  const { rung, ladder, ways } = useMemo(
    () => ({
      rung: costOf(stepsOf(plan), plan, bpm, gaps),
      ladder: ladderCost(plan, gaps),
      ways: worthOffering(cheaper(plan, bpm, gaps)),
    }),
    [plan, bpm, gaps],
  );
  return (
    <section class="plan-costs" aria-label={t('plan_costs')}>
      <Line name={t('plan_one_rung', bpm)} cost={rung} />
      <Line name={plural('plan_whole_ladder', rungsOf(plan.numbers).length)} cost={ladder} />
      <p class="plan-note">{t('plan_if_clean')}</p>
      {ways.length > 0 && (
        <>
          <p class="plan-note" id="plan-cheaper">
            {t('plan_cheaper')}
          </p>
          <ul class="plan-ways" aria-labelledby="plan-cheaper">
            {ways.map((way) => (
              <li key={way.what.join()}>
                <button type="button" class="plan-way" onClick={() => onChange(way.numbers)}>
                  <span>{saySavings(way.what)}</span>
                  <strong>{sayMinutes(way.cost.minutes)}</strong>
                </button>
              </li>
            ))}
          </ul>
        </>
      )}
    </section>
  );
}

/** Each single change, and the cheapest of all together: more would be a table, not an offer. */
function worthOffering(ways: readonly Cheaper[]): Cheaper[] {
  return ways.filter((way, i) => way.what.length === 1 || i === ways.length - 1);
}

function Line({ name, cost }: { readonly name: string; readonly cost: Cost }) {
  return (
    <p class="plan-cost">
      <span class="plan-cost-name">{name}</span>
      <strong>{sayMinutes(cost.minutes)}</strong>
      <span class="plan-cost-detail">
        {t(
          'plan_steps_and_passes',
          plural('plan_steps', cost.steps),
          plural('plan_passes', cost.cleanPasses),
        )}
      </span>
    </p>
  );
}
