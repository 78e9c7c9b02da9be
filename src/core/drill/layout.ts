import { gapBarsOf, LEAST_GAP, timelineOf, type CountIn, type TimedBar } from '../beat/timeline.ts';
import type { Timeline } from '../beat/types.ts';
import { unitLength } from '../chart/meter.ts';
import type { Plan, RouteBar, Span } from '../chart/types.ts';
import type { PassKind } from '../log/events.ts';
import type { CurrentStep } from '../log/state.ts';
import type { Gap, Laid } from './state.ts';
import type { DrillSettings } from './types.ts';

/** Seconds from an order to its first click, so that it surely lies ahead of the sound card. */
export const AHEAD = 0.15;

/** The bars of a span; a seam runs on from the last bar into the first. */
export function barsOf(plan: Plan, span: Span): RouteBar[] {
  return Array.from(
    { length: span.to - span.from + 1 },
    (_, i) => plan.bars[(span.from + i) % plan.bars.length]!,
  );
}

/** Bars in units of the tempo, which counts the chart's first unit: an eighth stays as long throughout. */
export function timedBars(plan: Plan, span: Span): TimedBar[] {
  const unit = unitLength(plan.bars[0]!.unit);
  return barsOf(plan, span).map((bar) => ({ beats: bar.beats, scale: unitLength(bar.unit) / unit }));
}

const lengthOf = ({ beats, scale = 1 }: TimedBar) => beats * scale;

/** A span's length in units of the tempo. */
export function beatsOf(bars: readonly TimedBar[]): number {
  return bars.reduce((sum, bar) => sum + lengthOf(bar), 0);
}

/** The count-in as set; where only last beats count in, a lead-in has its own beats after them. */
function countInOf(settings: DrillSettings, leadIn: number): CountIn {
  return 'bars' in settings.countIn
    ? settings.countIn
    : { beats: settings.countIn.beats + Math.ceil(leadIn) };
}

interface Music {
  readonly bars: readonly TimedBar[];
  readonly bpm: number;
  readonly halves: boolean;
}

function musicOf(plan: Plan, step: CurrentStep, settings: DrillSettings): Music {
  const { halvesFrom } = settings;
  return {
    bars: timedBars(plan, step),
    bpm: step.bpm,
    halves: halvesFrom !== null && step.bpm >= halvesFrom && plan.bars[0]!.unit === 'quarter',
  };
}

/** Seconds of the gap before a pass that follows one of `passBeats`. */
export function gapSeconds(
  plan: Plan,
  step: CurrentStep,
  settings: DrillSettings,
  passBeats: number,
): number {
  const music = musicOf(plan, step, settings);
  return gapBars(music, settings, passBeats, countIn(plan, step, settings, music)) * barSeconds(music);
}

const barSeconds = ({ bars, bpm }: Music) => (lengthOf(bars[0]!) * 60) / bpm;

function countIn(plan: Plan, step: CurrentStep, settings: DrillSettings, music: Music): Timeline {
  const leadIn = plan.bars[step.from % plan.bars.length]!.leadIn;
  return timelineOf({ ...music, countIn: countInOf(settings, leadIn) });
}

function gapBars(music: Music, settings: DrillSettings, passBeats: number, timeline: Timeline): number {
  const { bpm } = music;
  const countInBeats = (timeline.start * bpm) / 60;
  return gapBarsOf({ bpm, beats: lengthOf(music.bars[0]!), gap: settings.gap, passBeats, countInBeats });
}

export interface LayOptions {
  readonly plan: Plan;
  readonly step: CurrentStep;
  readonly settings: DrillSettings;
  readonly kind: PassKind;
  readonly id: string;
  /** Audio-clock seconds; nothing is ordered before it. */
  readonly clock: number;
  /** Null for the first pass of a sitting. */
  readonly gap: Gap | null;
}

/** Lays a pass on the audio clock: after the gap, on a bar line, or at once where no beat is going. */
export function lay(options: LayOptions): Laid {
  const { plan, step, settings, kind, id, clock, gap } = options;
  const music = musicOf(plan, step, settings);
  const plain = countIn(plan, step, settings, music);
  const bar = barSeconds(music);
  const bars = (n: number) => timelineOf({ ...music, countIn: { bars: n } });

  let timeline = plain;
  let startAt = clock + AHEAD + plain.start;
  let gapAt: number | null = null;
  if (gap?.onLines) {
    const late = Math.ceil((startAt - gap.line) / bar - 1e-9);
    const n = Math.max(gapBars(music, settings, gap.passBeats, plain), late);
    gapAt = gap.line;
    startAt = gapAt + n * bar;
    // Bar lines that have gone by in silence are not filled any more.
    if (gap.fill) timeline = bars(n - Math.max(0, Math.floor((clock - gap.line) / bar)));
  } else if (gap && startAt < gap.line + LEAST_GAP) {
    timeline = bars(Math.ceil((gap.line + LEAST_GAP - clock - AHEAD) / bar));
    startAt = clock + AHEAD + timeline.start;
  }
  const countInAt = startAt - timeline.start;
  return {
    timeline,
    beats: beatsOf(music.bars),
    order: {
      id,
      from: step.from,
      to: step.to,
      bpm: step.bpm,
      kind,
      gapAt: gapAt ?? countInAt,
      countInAt,
      startAt,
      endAt: countInAt + timeline.end,
    },
  };
}
