import type { Numbers, Plan } from '../../core/chart/types.ts';
import { rungsOf } from '../../core/ladder/index.ts';
import { t } from '../../host/i18n.ts';
import { NumberField, OptionalNumber, Row, Tick } from './fields.tsx';
import { FASTEST, MOST_IN_A_ROW, SLOWEST } from './limits.ts';

interface FinerProps {
  readonly plan: Plan;
  readonly change: (change: Partial<Numbers>) => void;
}

/** The numbers that most players leave as they are. */
export function Finer({ plan, change }: FinerProps) {
  const { numbers } = plan;
  return (
    <details class="plan-finer">
      <summary>{t('plan_finer')}</summary>
      <Row>
        <NumberField
          label={t('plan_join_streak')}
          value={numbers.joinStreak}
          min={1}
          max={MOST_IN_A_ROW}
          onChange={(joinStreak) => change({ joinStreak })}
        />
      </Row>
      <OptionalNumber
        label={t('plan_section_length')}
        value={numbers.sectionLength}
        otherwise={4}
        min={1}
        max={64}
        onChange={(sectionLength) => change({ sectionLength })}
      />
      <OptionalNumber
        label={t('plan_double_above')}
        value={numbers.doubleStepAbove}
        otherwise={120}
        min={SLOWEST}
        max={FASTEST}
        onChange={(doubleStepAbove) => change({ doubleStepAbove })}
      />
      <Switches numbers={numbers} change={change} />
      <SkippedBars plan={plan} change={change} />
      <RepeatedRungs numbers={numbers} change={change} />
    </details>
  );
}

function Switches({ numbers, change }: { readonly numbers: Numbers; readonly change: FinerProps['change'] }) {
  return (
    <div class="plan-ticks">
      <Tick
        label={t('plan_pairs')}
        checked={numbers.joining === 'pairs'}
        onChange={(on) => change({ joining: on ? 'pairs' : 'one-by-one' })}
      />
      <Tick label={t('plan_seams')} checked={numbers.seams} onChange={(seams) => change({ seams })} />
      <Tick label={t('plan_twins')} checked={numbers.twins} onChange={(twins) => change({ twins })} />
      <Tick
        label={t('plan_differing')}
        checked={numbers.differing}
        onChange={(differing) => change({ differing })}
      />
      <Tick label={t('plan_silence')} checked={numbers.silence} onChange={(silence) => change({ silence })} />
    </div>
  );
}

/** Adds or takes away one item of a list. */
function toggled<T>(list: readonly T[], item: T): T[] {
  return list.includes(item) ? list.filter((other) => other !== item) : [...list, item];
}

function SkippedBars({ plan, change }: FinerProps) {
  const { skipped } = plan.numbers;
  const written = [...new Map(plan.bars.map((bar) => [bar.bar, bar.number]))].sort((a, b) => a[1] - b[1]);
  return (
    <fieldset class="plan-choices">
      <legend>{t('plan_skipped')}</legend>
      {written.map(([bar, number]) => (
        <button
          key={bar}
          type="button"
          class="plan-choice"
          aria-pressed={skipped.includes(bar)}
          aria-label={t('plan_skip_bar', number)}
          onClick={() => change({ skipped: toggled(skipped, bar) })}
        >
          {number}
        </button>
      ))}
    </fieldset>
  );
}

function RepeatedRungs({
  numbers,
  change,
}: {
  readonly numbers: Numbers;
  readonly change: FinerProps['change'];
}) {
  const { repeatedRungs } = numbers;
  return (
    <fieldset class="plan-choices">
      <legend>{t('plan_repeated')}</legend>
      {[...new Set(rungsOf(numbers))].map((bpm) => (
        <button
          key={bpm}
          type="button"
          class="plan-choice"
          aria-pressed={repeatedRungs.includes(bpm)}
          aria-label={t('plan_repeat_rung', bpm)}
          onClick={() => change({ repeatedRungs: toggled(repeatedRungs, bpm) })}
        >
          {bpm}
        </button>
      ))}
    </fieldset>
  );
}
