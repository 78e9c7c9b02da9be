import { effect, signal, type ReadonlySignal } from '@preact/signals';
import { next, restAfter, start } from '../../core/drill/machine.ts';
import type { DrillState, Effect, Input, Laid, Moment } from '../../core/drill/state.ts';
import { at, type Folded } from '../../core/log/fold.ts';
import type { ChartState } from '../../core/log/state.ts';
import { holdWake } from '../../host/wake.ts';
import { Player, type SoundStop } from '../../sound/player.ts';
import type { Settings } from '../../store/types.ts';
import type { StandContext } from '../mode.ts';
import { heardOf } from './heard.ts';
import { Recorder } from './recorder.ts';
import type { DrillView, Session } from './session-types.ts';

export type { DrillView, Heard, Session } from './session-types.ts';

/** What the session needs of the sound; the extension's is `Player`. */
export type SessionPlayer = Pick<
  Player,
  'start' | 'now' | 'heardAt' | 'schedule' | 'cancel' | 'close' | 'volume'
>;

export interface SessionOptions {
  readonly context: StandContext;
  readonly settings: ReadonlySignal<Settings>;
  /** Makes the sound: a seam for tests. */
  readonly player?: (stopped: (reason: SoundStop) => void) => SessionPlayer;
}

const WEEK = 7 * 24 * 60 * 60 * 1000;
/** Longest time between two looks at the clock while passes are on it, milliseconds. */
const LOOK = 200;

/** Binds the drill's machine to the sound, the log and the page. */
export function createSession({ context, settings, player: makePlayer }: SessionOptions): Session {
  const stopped = (reason: SoundStop) => {
    if (machine.run === 'running') dispatch({ type: 'broke', reason });
  };
  const player = makePlayer?.(stopped) ?? new Player({ stopped, volume: settings.peek().volume });
  const recorder = new Recorder((bodies) => context.append(bodies));
  const first = context.state.peek();
  let machine: DrillState = start(first, settings.peek().drill, inFirstWeek(first));
  let shown: Laid | null = null;
  let over: Laid | null = null;
  let timer: ReturnType<typeof setTimeout> | undefined;
  let wake: AbortController | null = null;
  let wakeLockLost = false;
  let disposed = false;
  const view = signal(viewOf(machine, shown, wakeLockLost));

  const heardNow = () => player.heardAt(settings.peek().lightOffset);
  const moment = (): Moment => ({ clock: player.now(), heard: heardNow(), ms: performance.now() });

  function dispatch(input: Input): void {
    if (disposed) return;
    const head = machine.queue[0];
    const { state, effects } = next(machine, input, moment());
    machine = state;
    if (head && state.gap?.line === head.order.endAt && !state.gap.fill) over = head;
    shown = state.queue[0] ?? shown;
    effects.forEach(perform);
    keepAwake(state.run === 'running');
    show();
    look();
  }

  function perform(wanted: Effect): void {
    if (wanted.type === 'schedule') player.schedule(wanted.order.countInAt, wanted.timeline);
    else if (wanted.type === 'cancel') player.cancel(wanted.from);
    else
      recorder.record(
        wanted.bodies,
        (chart) => dispatch({ type: 'committed', chart }),
        () => dispatch({ type: 'broke', reason: 'not-kept' }),
      );
  }

  function show(): void {
    const now = viewOf(machine, shown, wakeLockLost);
    if (JSON.stringify(now) !== JSON.stringify(view.peek())) view.value = now;
  }

  /** Timers only look at the clock: every click has been scheduled long before. */
  function look(): void {
    clearTimeout(timer);
    const on = machine.queue[0]?.order;
    if (!on) return;
    const wait = ((machine.begun ? on.endAt : on.startAt) - heardNow()) * 1000;
    timer = setTimeout(() => dispatch({ type: 'tick' }), Math.min(LOOK, Math.max(4, wait + 1)));
  }

  function keepAwake(running: boolean): void {
    if (running === (wake !== null)) return;
    wake?.abort();
    wake = running ? new AbortController() : null;
    wakeLockLost = false;
    if (wake)
      holdWake(wake.signal, (held) => {
        wakeLockLost = !held;
        show();
      });
  }

  const hidden = () => {
    if (document.visibilityState === 'hidden') dispatch({ type: 'broke', reason: 'hidden' });
  };
  document.addEventListener('visibilitychange', hidden);

  const ends = [
    effect(() => {
      const chart = context.state.value;
      if (!recorder.busy && chart !== machine.chart) dispatch({ type: 'changed', chart });
    }),
    effect(() => {
      if (!context.writing.value && machine.run !== 'idle') dispatch({ type: 'broke', reason: 'elsewhere' });
    }),
    effect(() => {
      player.volume = settings.value.volume;
      const { drill } = settings.value;
      if (drill !== machine.settings) dispatch({ type: 'settings', settings: drill });
    }),
  ];

  return {
    view,
    async begin() {
      if (disposed || machine.run === 'running') return;
      if (!context.writing.peek()) {
        dispatch({ type: 'broke', reason: 'elsewhere' });
        return;
      }
      const refused = await player.start();
      if (refused) {
        dispatch({ type: 'broke', reason: refused });
        return;
      }
      recorder.again();
      const chart = await context.refresh();
      dispatch({ type: 'begin', chart: cooled(chart) });
    },
    answer: (verdict, by) => dispatch({ type: 'answer', verdict, by }),
    pause: () => dispatch({ type: 'pause' }),
    undo: () => dispatch({ type: 'undo' }),
    trial: () => dispatch({ type: 'trial' }),
    repeat: () => dispatch({ type: 'repeat' }),
    skip: () => dispatch({ type: 'skip' }),
    back: () => dispatch({ type: 'back' }),
    tempo: (bpm) => dispatch({ type: 'tempo', bpm }),
    choose: (choice) => dispatch({ type: 'choose', choice }),
    heard: (ahead = 0) => heardOf(machine.queue, over, heardNow() + ahead),
    dispose() {
      if (disposed) return;
      // Leaving in mid-pass is breaking it off.
      dispatch({ type: 'pause' });
      disposed = true;
      clearTimeout(timer);
      wake?.abort();
      ends.forEach((end) => end());
      document.removeEventListener('visibilitychange', hidden);
      void player.close();
    },
  };
}

function inFirstWeek({ firstPassAt }: ChartState): boolean {
  return firstPassAt === null || Date.now() - Date.parse(firstPassAt) < WEEK;
}

/** A pause since the last pass has loosened the knots, also while the page stood open. */
function cooled(chart: ChartState): ChartState {
  return 'inner' in chart ? at(chart as Folded, new Date().toISOString()) : chart;
}

function viewOf(state: DrillState, shown: Laid | null, wakeLockLost: boolean): DrillView {
  const { phase, queue, chart, wall, stopped, sign, sounded, restedAt, pending } = state;
  const kind = queue[0]?.order.kind;
  return {
    phase,
    order: shown?.order ?? null,
    timeline: shown?.timeline ?? null,
    waiting: phase === 'waiting' || phase === 'asking',
    cold: kind ? kind === 'cold' : chart.cold,
    trial: kind === 'trial' || (!state.begun && state.trial),
    wall,
    stopped,
    sign,
    minutes: Math.floor(sounded / 60),
    restIn: Math.max(0, Math.ceil((restAfter(state) - (sounded - restedAt)) / 60)),
    keeping: pending.length > 0,
    wakeLockLost,
  };
}
