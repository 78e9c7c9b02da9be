import type { Click } from '../core/beat/types.ts';
import { clickSamples } from './voice.ts';

/** The part of Web Audio that a click needs: the browser's contexts have it, live and offline, and Node's too. */
export type ClickContext = Pick<
  BaseAudioContext,
  'sampleRate' | 'createBuffer' | 'createBufferSource' | 'destination'
>;

export interface Placed {
  readonly node: AudioBufferSourceNode;
  /** The sample that it starts on. */
  readonly frame: number;
}

/**
 * Puts clicks on the context's sample clock. The one place where a click becomes sound: live and
 * rendered passes go through it alike.
 */
export class Clicks {
  readonly #context: ClickContext;
  readonly #output: AudioNode;
  readonly #accent: AudioBuffer;
  readonly #plain: AudioBuffer;

  constructor(context: ClickContext, output: AudioNode = context.destination) {
    this.#context = context;
    this.#output = output;
    this.#accent = bufferOf(context, 'accent');
    this.#plain = bufferOf(context, 'plain');
  }

  /** The sample nearest to `at` (context seconds). */
  frameOf(at: number): number {
    return Math.round(at * this.#context.sampleRate);
  }

  /** Starts a click on the sample nearest to `at` (context seconds). */
  place(at: number, click: Pick<Click, 'accent'>): Placed {
    const frame = this.frameOf(at);
    const node = this.#context.createBufferSource();
    node.buffer = click.accent ? this.#accent : this.#plain;
    node.connect(this.#output);
    // A whole sample: between two, an engine may interpolate, which blurs the onset.
    node.start(frame / this.#context.sampleRate);
    return { node, frame };
  }
}

function bufferOf(context: ClickContext, voice: 'accent' | 'plain'): AudioBuffer {
  const samples = clickSamples(voice, context.sampleRate);
  const buffer = context.createBuffer(1, samples.length, context.sampleRate);
  buffer.copyToChannel(samples, 0);
  return buffer;
}
