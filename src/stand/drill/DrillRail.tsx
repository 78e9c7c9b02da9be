import type { ReadonlySignal } from '@preact/signals';
import type { Likely } from '../../core/find/chart/likely.ts';
import { questionsOf } from '../../core/find/chart/questions.ts';
import type { ChartState } from '../../core/log/state.ts';
import { plural, t } from '../../host/i18n.ts';
import { NoteSign } from '../../ui/NoteSign.tsx';
import { unitName } from '../../ui/units.ts';
import { Ladder } from '../../ui/rope/Ladder.tsx';
import type { Phase } from '../../core/drill/phase.ts';
import type { Settings } from '../../store/types.ts';
import type { Handlers } from '../../ui/commands.ts';
import { CommandButton } from '../CommandButton.tsx';
import { Found, isAsFound } from './Found.tsx';
import type { LargeMode } from './large/create.tsx';
import type { Light } from './light.ts';
import { Standing, Wall } from './Offers.tsx';
import type { DrillView, Session } from './session-types.ts';
import { nextText, spanText, spanWord, whereText } from './words.ts';

/** Phases in which a verdict can be given. */
export const sounding: readonly Phase[] = ['count-in', 'playing', 'gap', 'asking', 'waiting'];

export interface DrillRailProps {
  readonly state: ReadonlySignal<ChartState>;
  readonly session: Session;
  readonly light: ReadonlySignal<Light | null>;
  readonly handlers: Handlers;
  readonly settings: ReadonlySignal<Settings>;
  readonly large: Pick<LargeMode, 'isLarge' | 'showing'>;
  readonly toMarks: () => void;
  /** Stretches that look alike: see `StandContext`. */
  readonly likely: ReadonlySignal<readonly Likely[]>;
}

/** What, how fast, where on the ladder, what comes next, and the verdicts: in this order. */
export function DrillRail(props: DrillRailProps) {
  const { state, session, light, handlers, settings, large, toMarks, likely } = props;
  const view = session.view.value;
  const chart = state.value;
  const plan = chart.plan?.plan;
  const step = chart.step;
  if (!plan || !step)
    return (
      <section class="drill-rail" data-phase={view.phase}>
        <p class="drill-next">{t(chart.finished ? 'drill_finished' : 'drill_no_plan')}</p>
        {chart.finished && <CommandButton id="undo" label="drill_undo" handlers={handlers} class="plain" />}
      </section>
    );
  const text = spanText(plan, step);
  const marks = chart.marks?.marks;
  return (
    <section class="drill-rail" data-phase={view.phase}>
      <p class="drill-small drill-where">{whereText(plan, step)}</p>
      <div class="drill-what">
        <span class="drill-kind">{spanWord(step)}</span>
        <span
          class={text.length > 5 ? 'drill-span long' : 'drill-span'}
          data-span={text}
          data-from={step.from}
          data-to={step.to}
        >
          {text}
        </span>
      </div>
      <Tempo chart={chart} light={light} />
      <div class="drill-ladder">
        <Ladder
          rungs={chart.rungs}
          current={step.bpm}
          name={t('drill_ladder_name', step.bpm, plan.numbers.goal)}
        />
      </div>
      <div class="drill-foot">
        {view.phase === 'idle' && marks && isAsFound(marks, chart.passes) && (
          <Found
            {...{ marks, plan, settings }}
            alike={questionsOf(marks, likely.value).length}
            look={toMarks}
          />
        )}
        <Sentence chart={chart} view={view} />
        <p class="drill-small">
          {view.minutes > 0
            ? plural('drill_minutes', view.minutes, view.restIn)
            : plural('drill_rest_in', view.restIn)}
        </p>
        {view.wakeLockLost && <p class="drill-small">{t('drill_wake')}</p>}
        {view.phase === 'wall' ? (
          <Wall view={view} session={session} plan={plan} />
        ) : (
          <Verdicts view={view} handlers={handlers} />
        )}
        <Whole large={large} handlers={handlers} />
        <More handlers={handlers} trial={view.trial} />
      </div>
    </section>
  );
}

/** Reads the light itself, so that a beat redraws the count and not the rail. */
function Tempo({ chart, light: beats }: { chart: ChartState; light: ReadonlySignal<Light | null> }) {
  const step = chart.step!;
  // The tempo counts the chart's first unit throughout.
  const { unit } = chart.plan!.plan.bars[0]!;
  const light = beats.value;
  if (light?.countIn && light.countdown !== null && light.countdown > 0)
    return (
      <div class="drill-tempo counting" data-tempo={step.bpm} data-countdown={light.countdown}>
        <span class="drill-kind">{t('drill_pass_in')}</span>
        {light.countdown}
      </div>
    );
  return (
    <div
      class="drill-tempo"
      data-tempo={step.bpm}
      aria-label={t('drill_tempo_name', unitName(unit), step.bpm)}
    >
      <NoteSign unit={unit} name={unitName(unit)} />
      <span class="equals" aria-hidden="true">
        {'='}
      </span>
      {step.bpm}
    </div>
  );
}

/** One sentence: what to do, or how far it is and what comes next. */
function Sentence({ chart, view }: { chart: ChartState; view: DrillView }) {
  const plan = chart.plan!.plan;
  const step = chart.step!;
  if (!sounding.includes(view.phase)) return <Standing view={view} />;
  if (view.phase === 'asking') return <p class="drill-next">{t('drill_wait_one')}</p>;
  if (view.phase === 'waiting')
    return (
      <p class="drill-next">
        <b>{t('drill_wait', step.streak)}</b>
      </p>
    );
  const tied = chart.knots.filter((knot) => knot.tie !== 'gap').length;
  const left = Math.max(0, step.streak - tied);
  return (
    <p class="drill-next">
      {view.sign && (
        <span class="drill-sign" data-sign={view.sign}>
          {t(
            view.sign === 'step'
              ? 'drill_sign_step'
              : view.sign === 'rung'
                ? 'drill_sign_rung'
                : 'drill_sign_goal',
          )}{' '}
        </span>
      )}
      {view.trial ? (
        t('drill_trial_now')
      ) : view.cold ? (
        t('drill_cold')
      ) : (
        <>
          {plural('drill_more', left)} <b>{nextText(plan, chart)}</b>
        </>
      )}
    </p>
  );
}

function Verdicts({ view, handlers }: { view: DrillView; handlers: Handlers }) {
  if (!sounding.includes(view.phase))
    return (
      <div class="drill-verdicts">
        <CommandButton
          id="begin"
          label={view.phase === 'idle' ? 'drill_begin' : 'drill_go_on'}
          handlers={handlers}
          class="first"
        />
      </div>
    );
  // Where the drill waits for the word, clean is the large one.
  return (
    <div class="drill-verdicts">
      {view.waiting && <CommandButton id="clean" label="drill_clean" handlers={handlers} class="first" />}
      <CommandButton id="slip" label="drill_slip" handlers={handlers} class={view.waiting ? '' : 'first'} />
      {!view.waiting && <CommandButton id="clean" label="drill_clean" handlers={handlers} />}
      <CommandButton id="pause" label="drill_pause" handlers={handlers} />
    </div>
  );
}

/** The way to the whole page and back, where bars are set large. */
function Whole({ large, handlers }: Pick<DrillRailProps, 'large' | 'handlers'>) {
  const isWhole = large.showing.value === 'page';
  if (!isWhole && !large.isLarge.value) return null;
  return (
    <div class="drill-more drill-whole">
      <CommandButton id="whole" label="drill_whole" handlers={handlers} class="plain" pressed={isWhole} />
    </div>
  );
}

const more = [
  ['undo', 'drill_undo'],
  ['trial', 'drill_trial'],
  ['repeat', 'drill_repeat'],
  ['back', 'drill_back'],
  ['skip', 'drill_skip'],
  ['slower', 'drill_slower'],
  ['faster', 'drill_faster'],
] as const;

function More({ handlers, trial }: { handlers: Handlers; trial: boolean }) {
  return (
    <div class="drill-more">
      {more.map(([id, label]) => (
        <CommandButton
          key={id}
          id={id}
          label={label}
          handlers={handlers}
          class="plain"
          pressed={id === 'trial' ? trial : undefined}
        />
      ))}
    </div>
  );
}
