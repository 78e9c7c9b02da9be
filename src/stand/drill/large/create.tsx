import { computed, effect, signal, untracked, type ReadonlySignal } from '@preact/signals';
import { createRef } from 'preact';
import type { Plan, Span } from '../../../core/chart/types.ts';
import { cutsOf } from '../../../core/drill/cuts.ts';
import { leastStaff, type Size } from '../../../core/drill/legible.ts';
import { linesFit, settingOf, type Setting } from '../../../core/drill/setting.ts';
import { ladderOf } from '../../../core/log/ladder.ts';
import type { Settings } from '../../../store/types.ts';
import type { StandContext } from '../../mode.ts';
import { following } from '../../view/geometry.ts';
import { placeOf, type Light } from '../light.ts';
import { Large, type LargeSpan } from './Large.tsx';
import './large.css';
import { createLooks } from './looks.ts';
import { createPictures } from './pictures.ts';

/** How the music is shown: large where its lines do not fit, or as the player asked. */
export type Showing = 'auto' | 'page' | 'system' | 'span';

export interface LargeMode {
  readonly showing: ReadonlySignal<Showing>;
  /** Bars are set large now. */
  readonly isLarge: ReadonlySignal<boolean>;
  /** The least scale of a page at which a span may be read from where the player is. */
  readonly leastScale: (plan: Plan, span: Span) => number;
  show(showing: Showing): void;
  dispose(): void;
}

/** Kept free around what is set large, CSS px. */
const MARGIN = { width: 24, height: 12 };
/**
 * The rail leaves bars set large more room than it leaves the page. The page comes back only where its lines
 * fit in what would then be left, or the two would take turns.
 */
const PAGE_SHARE = 0.85;
/** The first lines are waited for, so that bars never come up blank. */
const FIRST_LINES = 2;
/** Milliseconds until what the next step shows is drawn: after the first look at this one. */
const AHEAD = 1500;

/** Cuts the span's bars from the page and sets them large wherever its lines do not fit as large as asked. */
export function createLarge(
  { view, state }: StandContext,
  settings: ReadonlySignal<Settings>,
  light: ReadonlySignal<Light | null>,
): LargeMode {
  const showing = signal<Showing>('auto');
  const density = signal(devicePixelRatio);
  const gone = new AbortController();
  addEventListener('resize', () => (density.value = devicePixelRatio), { signal: gone.signal });
  const pictures = createPictures(view);
  const looks = createLooks(view);
  const scroller = createRef<HTMLDivElement>();
  const span = signal<LargeSpan | null>(null);
  let large = false;

  /** How a span would be set; null where its lines fit as they are printed. */
  const settingFor = (plan: Plan, step: Span): Setting | null => {
    const cuts = cutsOf(plan, step, view.sizes, looks.seen);
    const least = leastStaff(settings.value.distance);
    const room = roomOf(view.room.value);
    const given = { cuts, pages: view.sizes, least };
    const share = large ? PAGE_SHARE : 1;
    if (linesFit({ ...given, room: { width: room.width * share, height: room.height } })) return null;
    return settingOf({ ...given, room, density: density.value });
  };
  /** Every pass changes the chart's state, but only a new span or plan what is set. */
  const shownSpan = computed(() => {
    const { plan, step } = state.value;
    return plan && step ? `${plan.event} ${step.from} ${step.to}` : null;
  });
  const wanted = computed<LargeSpan | null>(() => {
    const key = shownSpan.value;
    const { plan, step } = state.peek();
    if (key === null || !plan || !step || showing.value !== 'auto') return null;
    if (view.room.value.width <= 2 * MARGIN.width) return null;
    const setting = settingFor(plan.plan, step);
    const place = (bar: number) => placeOf(plan.plan, step.from, bar);
    return setting && { setting, key, plan: plan.plan, step, placeOf: place };
  });

  let drawing = new AbortController();
  const stops = [
    effect(() => {
      const next = wanted.value;
      drawing.abort();
      drawing = new AbortController();
      large = next !== null;
      if (next) void drawn(next, drawing.signal).catch(() => undefined);
      else span.value = null;
    }),
    effect(() => {
      const next = span.value;
      const playing = light.value;
      if (next && playing) untracked(() => follow(next, playing));
    }),
  ];
  async function drawn(next: LargeSpan, stop: AbortSignal): Promise<void> {
    const enough = Math.min(FIRST_LINES, next.setting.lines.length);
    let lines = 0;
    const show = () => {
      if (++lines < enough || span.value === next) return;
      if (scroller.current && span.value?.key !== next.key) scroller.current.scrollTop = 0;
      span.value = next;
    };
    await looks.look(cutsOf(next.plan, next.step, view.sizes), stop);
    // What was seen of the lines sets the bars anew: then these are not drawn any more.
    stop.throwIfAborted();
    await pictures.draw(next.setting, stop, show);
    await pause(AHEAD, stop);
    await drawAhead(next.plan, stop);
  }
  /** Draws what the step after this one will show. */
  async function drawAhead(plan: Plan, stop: AbortSignal): Promise<void> {
    const after = ladderOf(plan).steps[(state.peek().step?.index ?? -2) + 1];
    if (!after) return;
    await looks.look(cutsOf(plan, after, view.sizes), stop);
    const setting = untracked(() => settingFor(plan, after));
    if (setting) await pictures.draw(setting, stop);
  }

  /** Lines that do not fit go by: the next is brought in before it is needed, never under the bar being played. */
  function follow({ setting, placeOf: place }: LargeSpan, playing: Light): void {
    const element = scroller.current;
    if (!element) return;
    const { lines } = setting;
    const at = lines.findIndex(({ boxes }) =>
      boxes.some(({ bar }) => bar >= 0 && place(bar) === playing.place),
    );
    if (at < 0) return;
    const isLast = lines[at]!.boxes.at(-1)!.bar >= 0 && place(lines[at]!.boxes.at(-1)!.bar) === playing.place;
    const rect = ({ top, bottom }: (typeof lines)[number]) => ({ left: 0, right: 0, top, bottom });
    const now = rect(lines[at]!);
    const next = rect((isLast ? lines[at + 1] : undefined) ?? lines[at]!);
    const scroll = { left: 0, top: element.scrollTop };
    const inside = { width: element.clientWidth, height: element.clientHeight };
    const { top } = following(next, now, scroll, inside, 0);
    const still = matchMedia('(prefers-reduced-motion: reduce)').matches;
    if (top !== scroll.top) element.scrollTo({ top, behavior: still ? 'instant' : 'smooth' });
  }

  const look = (page: number) => view.look(page);
  view.setFront(<Large {...{ wanted, span, light, pictures, look, scroller }} />);
  return {
    showing,
    isLarge: computed(() => span.value !== null),
    leastScale: (plan, step) =>
      leastStaff(settings.peek().distance) /
      Math.min(...cutsOf(plan, step, view.sizes).map(({ staff }) => staff)),
    show: (next) => (showing.value = next),
    dispose() {
      gone.abort();
      drawing.abort();
      stops.forEach((stop) => stop());
      view.setFront(null);
    },
  };
}

const roomOf = ({ width, height }: Size): Size => ({
  width: width - 2 * MARGIN.width,
  height: height - 2 * MARGIN.height,
});

/** Resolves after so many milliseconds; rejects when stopped. */
function pause(ms: number, stop: AbortSignal): Promise<void> {
  return new Promise((resolve, reject) => {
    const timer = setTimeout(resolve, ms);
    const stopped = () => {
      clearTimeout(timer);
      reject(stop.reason as Error);
    };
    stop.addEventListener('abort', stopped, { once: true });
  });
}
