import { computed, effect, type ReadonlySignal } from '@preact/signals';
import type { Settings } from '../../store/types.ts';
import type { Source } from '../../ui/commands.ts';
import type { ChartState } from '../../core/log/state.ts';
import { t } from '../../host/i18n.ts';
import type { Mode, StandContext } from '../mode.ts';
import { Veil } from '../view/Veil.tsx';
import { Beats } from './Beats.tsx';
import './drill.css';
import { DrillRail, sounding } from './DrillRail.tsx';
import { boxesOf, followLight, linesOf, placeOf, type Light } from './light.ts';
import { createLarge, type LargeMode, type Showing } from './large/create.tsx';
import { createSession } from './session.ts';
import { spanText } from './words.ts';

/** The step a change of tempo by hand takes, bpm. */
const TEMPO_STEP = 5;

/** Drilling: the page lies still, the span is lit, the beats run under the bar being played. */
export function createDrillMode(context: StandContext, settings: ReadonlySignal<Settings>): Mode {
  const { view, state } = context;
  const ended = new AbortController();
  const session = createSession({ context, settings });
  const plan = () => state.value.plan?.plan ?? null;
  const light = followLight(session, () => state.peek().plan?.plan ?? null, ended.signal);
  const large = createLarge(context, settings, light);
  /** The same key again gives back what fits the distance. */
  const show = (showing: Showing) => () => large.show(large.showing.peek() === showing ? 'auto' : showing);

  /** Before anything has sounded, and after a stop, the pedal that says slip begins. */
  const resting = () => ['idle', 'paused', 'stopped', 'rest'].includes(session.view.peek().phase);
  const verdict = (word: 'clean' | 'slip') => (source: Source) =>
    resting() ? void session.begin() : session.answer(word, source);
  const tempo = (by: number) => () => {
    const bpm = state.peek().step?.bpm;
    if (bpm !== undefined) session.tempo(bpm + by);
  };
  const handlers = {
    slip: verdict('slip'),
    clean: verdict('clean'),
    begin: () => void session.begin(),
    pause: () => (resting() ? void session.begin() : session.pause()),
    undo: () => session.undo(),
    trial: () => session.trial(),
    repeat: () => session.repeat(),
    skip: () => session.skip(),
    back: () => session.back(),
    slower: tempo(-TEMPO_STEP),
    faster: tempo(TEMPO_STEP),
    whole: show('page'),
    'fit-system': show('system'),
    'fit-span': show('span'),
  };

  const stops = [frameSpan(context, large), followBars(context, light), tellStreak(context)];

  return {
    Rail: () => (
      <DrillRail
        {...{ state, session, light, handlers, settings, large }}
        likely={context.likely}
        toMarks={() => context.go('marks')}
      />
    ),
    overlay: (page) => {
      const now = plan();
      const step = state.value.step;
      if (!now || !step) return null;
      const lit = boxesOf(now, step.from, step.to).filter((placed) => placed.page === page);
      return (
        <>
          <Veil lit={lit.map((placed) => placed.reach)} />
          {!large.isLarge.value && <BeatsHere light={light} state={state} page={page} />}
        </>
      );
    },
    handlers,
    sounds: computed(() => sounding.includes(session.view.value.phase)),
    leave() {
      ended.abort();
      stops.forEach((stop) => stop());
      large.dispose();
      session.dispose();
      view.setOverlay(() => null);
    },
  };
}

interface BeatsHereProps {
  readonly light: ReadonlySignal<Light | null>;
  readonly state: ReadonlySignal<ChartState>;
  readonly page: number;
}

/** Reads the light itself, so that a beat redraws the strokes and nothing else. */
function BeatsHere({ light, state, page }: BeatsHereProps) {
  const now = light.value;
  const boxes = now && state.value.plan?.plan.bars[now.place]?.boxes;
  return boxes ? <Beats boxes={boxes} light={now} page={page} /> : null;
}

/** Brings a new span into view as the player wants it: its lines as large as fits, its bars alone, or the page. */
function frameSpan({ view, state }: StandContext, large: LargeMode): () => void {
  let shown = '';
  return effect(() => {
    const plan = state.value.plan?.plan;
    const step = state.value.step;
    if (!plan || !step) return;
    const showing = large.showing.value;
    const key = `${state.value.plan.event} ${step.from} ${step.to} ${showing}`;
    if (key === shown) return;
    const first = shown === '';
    shown = key;
    const boxes = showing === 'span' ? boxesOf(plan, step.from, step.to) : linesOf(plan, step.from, step.to);
    view.frame(boxes, { smooth: !first, leastScale: large.leastScale(plan, step) });
    if (showing === 'page') view.zoomTo('page');
  });
}

/** When the span runs over lines or pages the view moves ahead, one bar before it is needed. */
function followBars({ view, state }: StandContext, light: ReadonlySignal<Light | null>) {
  return effect(() => {
    const now = light.value;
    const { plan, step } = state.peek();
    if (!now || !plan || !step) return;
    const bars = plan.plan.bars;
    const playing = bars[now.place]?.boxes.at(-1);
    const last = placeOf(plan.plan, step.from, step.to - step.from);
    const ahead = now.place === last ? null : bars[placeOf(plan.plan, now.place, 1)]?.boxes[0];
    if (playing) view.follow(ahead ?? playing, playing);
  });
}

/** The live region says streak, verdict and span, once each has been kept. */
function tellStreak({ state, announce }: StandContext): () => void {
  let before: ChartState | null = null;
  return effect(() => {
    const now = state.value;
    const was = before;
    before = now;
    if (!was || !now.plan || !now.step) return;
    const count = (chart: ChartState) => chart.knots.filter((knot) => knot.tie !== 'gap').length;
    const moved =
      was.step?.from !== now.step.from || was.step.to !== now.step.to || was.step.bpm !== now.step.bpm;
    if (moved) announce(t('drill_say_span', spanText(now.plan.plan, now.step), now.step.bpm));
    else if (count(now) === 0 && count(was) > 0) announce(t('drill_say_slip'));
    else if (count(now) !== count(was)) announce(t('drill_say_streak', count(now), now.step.streak));
  });
}
