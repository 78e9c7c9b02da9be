import './plan.css';
import type { Numbers, Plan } from '../../core/chart/types.ts';
import { rungsOf, usualGaps, type Gaps } from '../../core/ladder/index.ts';
import { t } from '../../host/i18n.ts';
import { Costs } from './Costs.tsx';
import { Finer } from './Finer.tsx';
import { NumberField, Row } from './fields.tsx';
import { FASTEST, MOST_IN_A_ROW, SLOWEST, WIDEST_STEP } from './limits.ts';

interface PlanPanelProps {
  readonly plan: Plan;
  /** Called with all numbers after each change that fits; the caller makes the new plan of them. */
  readonly onChange: (numbers: Numbers) => void;
  /** The rung that is meant by "one rung"; the first by default. */
  readonly bpm?: number;
  /** What lies between passes, from the drill's settings; one bar, at least 3 s, by default. */
  readonly gaps?: Gaps;
}

/** What the plan costs before it is begun, what would be cheaper, and every number of the ladder. */
export function PlanPanel({ plan, onChange, bpm, gaps = usualGaps }: PlanPanelProps) {
  const { numbers } = plan;
  const change = (part: Partial<Numbers>) => onChange({ ...numbers, ...part });
  if (plan.bars.length === 0) return <p class="plan-note">{t('plan_no_bars')}</p>;
  return (
    <div class="plan-panel">
      <Row>
        <NumberField
          label={t('plan_streak')}
          value={numbers.streak}
          min={1}
          max={MOST_IN_A_ROW}
          onChange={(streak) => change(withStreak(numbers, streak))}
        />
      </Row>
      <Tempi numbers={numbers} change={change} />
      <Costs plan={plan} bpm={bpm ?? rungsOf(numbers)[0]!} gaps={gaps} onChange={onChange} />
      <Finer plan={plan} change={change} />
    </div>
  );
}

/** Joins follow the streak as long as the player has not set them apart. */
function withStreak(numbers: Numbers, streak: number): Partial<Numbers> {
  return numbers.joinStreak === numbers.streak ? { streak, joinStreak: streak } : { streak };
}

function Tempi(props: { readonly numbers: Numbers; readonly change: (part: Partial<Numbers>) => void }) {
  const { numbers, change } = props;
  return (
    <>
      <Row>
        <NumberField
          label={t('plan_start')}
          value={numbers.start}
          min={SLOWEST}
          max={Math.max(SLOWEST, numbers.goal)}
          onChange={(start) => change({ start })}
        />
      </Row>
      <Row>
        <NumberField
          label={t('plan_goal')}
          value={numbers.goal}
          min={Math.max(SLOWEST, numbers.start)}
          max={FASTEST}
          onChange={(goal) => change({ goal })}
        />
      </Row>
      <Row>
        <NumberField
          label={t('plan_step')}
          value={numbers.step}
          min={1}
          max={WIDEST_STEP}
          onChange={(step) => change({ step })}
        />
      </Row>
    </>
  );
}
