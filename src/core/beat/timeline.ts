import type { BarEdge, Click, Timeline } from './types.ts';

/** The least that a gap may last, in seconds: a breath, and time to say that it was a slip. */
export const LEAST_GAP = 3;

/** What a count-in can be: these bars (their beats), whole bars like the span's first, or the last beats of one. */
export type CountIn = readonly number[] | { readonly bars: number } | { readonly beats: number };

/** A bar in time: its length in beats (3.5 for 7/8 counted in quarters). */
export interface TimedBar {
  readonly beats: number;
  /** Length of its beat in units of the tempo (1.5 for a dotted quarter where the tempo counts quarters); 1. */
  readonly scale?: number;
}

export interface TimelineOptions {
  /** Tempo: beats of the chart's unit a minute. */
  readonly bpm: number;
  /** Bars of the span; those of the count-in are like the first. */
  readonly bars: readonly TimedBar[];
  readonly countIn: CountIn;
  /** The click goes in half notes wherever a bar divides into them; bars and tempo stay. */
  readonly halves?: boolean;
}

interface Place {
  /** In units of the tempo from the first bar line of everything. */
  readonly position: number;
  readonly beat: number;
}

/** The clicks of one bar, in beats from its bar line. A last beat cut short still clicks. */
function beatsOf(beats: number, halves: boolean): number[] {
  const stride = halves && beats % 2 === 0 ? 2 : 1;
  return Array.from({ length: Math.ceil(beats / stride) }, (_, i) => i * stride);
}

/** Bars of the count-in, and how many of their last beats click. */
function countInBars(countIn: CountIn, first: number): { bars: readonly number[]; last: number } {
  if (!('bars' in countIn) && !('beats' in countIn)) return { bars: countIn, last: Infinity };
  if ('bars' in countIn) return { bars: Array<number>(countIn.bars).fill(first), last: Infinity };
  const bars = Array<number>(Math.ceil(countIn.beats / Math.ceil(first))).fill(first);
  return { bars, last: countIn.beats };
}

/**
 * Lays out a pass: the count-in, the span's beats, its bar lines. Each time is a beat position
 * times 60/bpm, so nothing adds up however long the span is. Seconds count from the first click.
 * A lead-in is played inside the count-in and changes nothing here.
 * Throws RangeError for a tempo that is not above 0, an empty span or a bar without length.
 */
export function timelineOf({ bpm, bars, countIn, halves = false }: TimelineOptions): Timeline {
  const first = bars[0];
  if (!(bpm > 0 && Number.isFinite(bpm))) throw new RangeError('The tempo must be above 0.');
  if (!first || bars.some((bar) => !(bar.beats > 0 && Number.isFinite(bar.beats)))) {
    throw new RangeError('A pass needs at least one bar, each with a length above 0.');
  }
  const before = countInBars(countIn, first.beats);
  const all = [...before.bars.map((beats) => ({ ...first, beats })), ...bars];
  const lines = [0];
  for (const { beats, scale = 1 } of all) lines.push(lines[lines.length - 1]! + beats * scale);

  const places = all.map(({ beats, scale = 1 }, bar) =>
    beatsOf(beats, halves).map((beat): Place => ({ position: lines[bar]! + beat * scale, beat })),
  );
  const counted = places.slice(0, before.bars.length).flat();
  const barLine = lines[before.bars.length]!;
  const skipped = countInSkip(counted, before.last, barLine - before.last * (first.scale ?? 1), halves);
  const origin = counted[skipped]?.position ?? barLine;
  const seconds = (position: number) => ((position - origin) * 60) / bpm;

  const clicks = places.flatMap((bar, i) =>
    bar
      .filter(({ position }) => position >= origin)
      .map(({ position, beat }): Click => ({
        at: seconds(position),
        accent: beat === 0,
        countIn: i < before.bars.length,
        bar: i - before.bars.length,
        beat,
      })),
  );
  const edges = bars.map((bar, i): BarEdge => {
    const line = i + before.bars.length;
    return { from: seconds(lines[line]!), to: seconds(lines[line + 1]!), beats: bar.beats };
  });
  return { clicks, bars: edges, start: edges[0]!.from, end: edges[edges.length - 1]!.to };
}

/** How many of the count-in's clicks are left out so that only its last beats sound; one always does. */
function countInSkip(clicks: readonly Place[], last: number, first: number, halves: boolean): number {
  if (last === Infinity) return 0;
  if (last === 0) return clicks.length;
  if (!halves) return Math.max(0, clicks.length - last);
  const from = clicks.findIndex(({ position }) => position >= first);
  return from === -1 ? clicks.length - 1 : from;
}

/**
 * Whole bars between two passes: as many as were asked for (or as long as the pass was), enough
 * for the count-in, and never under 3 s.
 * `beats` is the length of one gap bar; `passBeats` the length of the pass before.
 */
export function gapBarsOf(options: {
  readonly bpm: number;
  readonly beats: number;
  readonly gap: number | 'as-long';
  readonly passBeats: number;
  readonly countInBeats: number;
}): number {
  const { bpm, beats, gap, passBeats, countInBeats } = options;
  const asked = gap === 'as-long' ? passBeats / beats : gap;
  // A hair's tolerance, so that four beats at 80 (3 s to the last bit or one above) stay one bar.
  const least = (LEAST_GAP * bpm) / 60 / beats;
  return Math.max(1, ...[asked, least, countInBeats / beats].map((bars) => Math.ceil(bars - 1e-9)));
}
