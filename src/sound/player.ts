import type { Timeline } from '../core/beat/types.ts';
import { Clicks, type Placed } from './clicks.ts';
import { followLatency } from './latency.ts';
import { watchClock } from './watch.ts';

/** Why the sound stopped without being asked. */
export type SoundStop = 'suspended' | 'device' | 'silent' | 'closed';

export interface PlayerOptions {
  /** Called once each time the sound stops by itself; `start` may be tried again. */
  readonly stopped: (reason: SoundStop) => void;
  /** 0 to 1. */
  readonly volume: number;
  /** Makes the context: a seam for tests. */
  readonly context?: () => AudioContext;
}

/** Milliseconds that an output may take to start before it counts as refused. */
const PATIENCE = 3000;

/** Seconds to fade over when the volume moves or clicks are taken back: no click of its own. */
const FADE = 0.01;

/**
 * Plays passes on the sample clock. A whole pass is handed over before it starts; no timer takes
 * part in the sound. All times are seconds of the audio clock.
 */
export class Player {
  readonly #options: PlayerOptions;
  #context: AudioContext | null = null;
  #gain: GainNode | null = null;
  #clicks: Clicks | null = null;
  #volume: number;
  /** What our clock had come to when the present context was opened: a new device does not set it back. */
  #epoch = 0;
  #wanted = false;
  #endWatch: (() => void) | null = null;
  /** The output's own, seconds. */
  #latency = 0;
  readonly #placed = new Map<number, Placed>();

  constructor(options: PlayerOptions) {
    this.#options = options;
    this.#volume = options.volume;
  }

  /**
   * Opens the output, or wakes it; call it in a user gesture. Answers null when it sounds, else why not:
   * a browser that lets nothing sound leaves the request unanswered for ever.
   */
  async start(): Promise<SoundStop | null> {
    let context: AudioContext;
    try {
      context = this.#open();
    } catch {
      return 'device';
    }
    if (!(await resumed(context))) {
      // One that has not answered once may stay mute although a device has come since.
      this.#leave();
      void context.close().catch(() => undefined);
      return 'silent';
    }
    this.#wanted = true;
    this.#endWatch ??= this.#watch(context);
    return null;
  }

  /** Seconds of the audio clock: where the next sample is rendered. Never goes back. */
  now(): number {
    return this.#epoch + (this.#context?.currentTime ?? 0);
  }

  /**
   * The second of the audio clock that is in the player's ears: what has been rendered, less the
   * output's own latency as last heard of, less `offset`.
   */
  heardAt(offset = 0): number {
    return this.now() - this.#latency - offset;
  }

  /**
   * Puts a pass on the clock, its first click at `at`, and the landing click on its last bar line.
   * A click that is there already (a landing that is also the next count-in's first) stays one;
   * what is past is left out rather than played late.
   */
  schedule(at: number, timeline: Timeline): void {
    const clicks = this.#clicks;
    if (!clicks) return;
    this.#forget();
    const now = clicks.frameOf(this.#context?.currentTime ?? 0);
    for (const click of [...timeline.clicks, { at: timeline.end, accent: true }]) {
      const time = at + click.at - this.#epoch;
      const frame = clicks.frameOf(time);
      if (frame < now || [-1, 0, 1].some((by) => this.#placed.has(frame + by))) continue;
      this.#placed.set(frame, clicks.place(time, click));
    }
  }

  /** Takes back every click from `from` on; one that sounds already rings out. */
  cancel(from: number): void {
    const first = this.#clicks?.frameOf(from - this.#epoch) ?? 0;
    for (const [frame, { node }] of this.#placed) {
      if (frame < first) continue;
      node.stop();
      node.disconnect();
      this.#placed.delete(frame);
    }
  }

  set volume(volume: number) {
    this.#volume = volume;
    this.#gain?.gain.setTargetAtTime(volume, this.#context?.currentTime ?? 0, FADE);
  }

  /** Silence and no more watching, until `start`. */
  async rest(): Promise<void> {
    this.#wanted = false;
    this.#endWatch?.();
    this.#endWatch = null;
    this.cancel(this.now());
    if (this.#context?.state === 'running') await this.#context.suspend();
  }

  async close(): Promise<void> {
    await this.rest();
    const context = this.#context;
    this.#leave();
    if (context && context.state !== 'closed') await context.close();
  }

  #watch(context: AudioContext): () => void {
    const endClock = watchClock(context, (reason) => this.#lost(reason));
    const endLatency = followLatency(context, (seconds) => (this.#latency = seconds));
    return () => {
      endClock();
      endLatency();
    };
  }

  #leave(): void {
    this.#latency = 0;
    this.#epoch = this.now();
    this.#context = null;
    this.#clicks = null;
    this.#placed.clear();
  }

  #open(): AudioContext {
    if (this.#context && this.#context.state !== 'closed') return this.#context;
    this.#leave();
    const context = this.#options.context?.() ?? new AudioContext({ latencyHint: 'interactive' });
    this.#context = context;
    this.#gain = context.createGain();
    this.#gain.gain.value = this.#volume;
    this.#gain.connect(context.destination);
    this.#clicks = new Clicks(context, this.#gain);
    return context;
  }

  #lost(reason: SoundStop): void {
    if (!this.#wanted) return;
    this.#wanted = false;
    this.#endWatch?.();
    this.#endWatch = null;
    this.cancel(this.now());
    // A context whose device has gone may never run again: the next start opens a new one.
    const context = this.#context;
    if (reason !== 'suspended' && context) {
      this.#leave();
      if (context.state !== 'closed') context.close().catch(() => undefined);
    }
    this.#options.stopped(reason);
  }

  /** Clicks that are over need not be kept. */
  #forget(): void {
    const context = this.#context;
    const gone = context ? (context.currentTime - 1) * context.sampleRate : 0;
    for (const frame of this.#placed.keys()) if (frame < gone) this.#placed.delete(frame);
  }
}

/** Whether the context runs after being asked to. */
async function resumed(context: AudioContext): Promise<boolean> {
  if (context.state === 'running') return true;
  const patience = new Promise<void>((resolve) => setTimeout(resolve, PATIENCE));
  await Promise.race([context.resume().catch(() => undefined), patience]);
  return isRunning(context);
}

/** As a function, since the state has changed while we waited. */
const isRunning = (context: AudioContext) => context.state === 'running';
