/** The extension's own store, sound and finder, on a page that does nothing else. */
import { timelineOf } from '../../../src/core/beat/timeline.ts';
import { Player } from '../../../src/sound/player.ts';
import { NOT_TURNED } from '../../../src/core/chart/turn.ts';
import { openPdf } from '../../../src/pdf/open.ts';
import { openFinder } from '../../../src/stand/find/finder.ts';
import { openStore } from '../../../src/store/index.ts';
import recorderUrl from './recorder.js?url';

interface Block {
  readonly frame: number;
  readonly samples: Float32Array;
}

const sleep = (ms: number) => new Promise((done) => setTimeout(done, ms));

const bytesOf = (base64: string) => Uint8Array.from(atob(base64), (char) => char.charCodeAt(0));

/** Milliseconds that some work takes. */
async function timeOf(work: () => Promise<unknown>): Promise<number> {
  const before = performance.now();
  await work();
  return performance.now() - before;
}

function block(ms: number): void {
  const end = performance.now() + ms;
  while (performance.now() < end);
}

/** First samples of what comes after at least 10 ms of silence, as the sound clock counts them. */
function onsetsOf(blocks: readonly Block[], rate: number): number[] {
  const onsets: number[] = [];
  let last = -Infinity;
  for (const { frame, samples } of blocks)
    samples.forEach((sample, i) => {
      if (sample === 0) return;
      if (frame + i - last > 0.01 * rate) onsets.push(frame + i);
      last = frame + i;
    });
  return onsets;
}

const bench = {
  /**
   * Plays bars of 4/4 through the real Player, the page's thread busy for `blockedMs` right after, and
   * answers where clicks began in what came out. `expected` is in samples, from 60/bpm, unrounded.
   */
  async clicks(bpm: number, bars: number, blockedMs: number) {
    const context = new AudioContext({ latencyHint: 'interactive' });
    await context.audioWorklet.addModule(recorderUrl);
    const recorder = new AudioWorkletNode(context, 'recorder', { numberOfOutputs: 0 });
    const blocks: Block[] = [];
    recorder.port.onmessage = ({ data }: MessageEvent<Block>) => blocks.push(data);
    // What the player sends out is heard here on its way to the output.
    const tap = context.createGain();
    tap.connect(context.destination);
    tap.connect(recorder);
    Object.defineProperty(context, 'destination', { value: tap });

    const stops: string[] = [];
    const player = new Player({ stopped: (why) => stops.push(why), volume: 0.8, context: () => context });
    const refused = await player.start();
    if (refused) throw new Error(`no sound: ${refused}`);
    const timeline = timelineOf({
      bpm,
      bars: Array.from({ length: bars }, () => ({ beats: 4 })),
      countIn: { bars: 0 },
    });
    const at = player.now() + 0.2;
    player.schedule(at, timeline);
    const soundBefore = player.now();
    block(blockedMs);
    const soundAfter = player.now();
    await sleep((at + timeline.end + 0.3 - player.now()) * 1000);
    const rate = context.sampleRate;
    const count = timeline.clicks.length + 1;
    await player.close();
    return {
      rate,
      stops,
      heard: onsetsOf(blocks, rate),
      expected: Array.from({ length: count }, (_, i) => (at + (i * 60) / bpm) * rate),
      blocked: [soundBefore * rate, soundAfter * rate] as const,
    };
  },

  async merge(json: string) {
    const store = await openStore();
    const before = performance.now();
    const report = await store.merge(new Blob([json], { type: 'application/json' }));
    store.close();
    return { ...report, ms: performance.now() - before };
  },

  /** Keeps a file, given in base 64. */
  async keep(base64: string) {
    const store = await openStore();
    await store.keepDocument(new Blob([bytesOf(base64)]), { name: 'sample.pdf' });
    store.close();
  },

  /**
   * Milliseconds to find an open file's first page in the finder's worker and to draw it with pdf.js, each in turn, so
   * many times. Pictures are decoded anew each time.
   */
  async find(base64: string, dpi: number, times: number) {
    const bytes = bytesOf(base64);
    const { signal } = new AbortController();
    const finder = await openFinder({ bytes: new Blob([bytes]), password: null, turns: NOT_TURNED }, signal);
    const file = await openPdf(bytes);
    const page = await file.document.getPage(1);
    const viewport = page.getViewport({ scale: dpi / 72 });
    const canvas = document.createElement('canvas');
    const draw = async () => {
      [canvas.width, canvas.height] = [Math.round(viewport.width), Math.round(viewport.height)];
      await page.render({ canvas, viewport, background: 'white' }).promise;
      // Whatever was put off is drawn by now.
      canvas.getContext('2d')!.getImageData(0, 0, 1, 1);
      page.cleanup();
    };
    let bars = 0;
    const find = async () => {
      const found = await finder.find(0, 0);
      bars = found?.systems.reduce((sum, system) => sum + system.bars.length, 0) ?? 0;
    };
    const taken: [number[], number[]] = [[], []];
    for (let i = 0; i < times; i++) {
      taken[0].push(await timeOf(find));
      taken[1].push(await timeOf(draw));
    }
    finder.end();
    await file.destroy();
    return { found: taken[0], drawn: taken[1], bars };
  },

  /** Milliseconds to read where each of two charts stands, in turn. */
  async open(charts: readonly [string, string], times: number) {
    const store = await openStore();
    const now = new Date().toISOString();
    const taken: [number[], number[]] = [[], []];
    for (let i = 0; i < times; i++)
      for (const which of i % 2 === 0 ? [0, 1] : [1, 0]) {
        const before = performance.now();
        const state = await store.state(charts[which]!, now);
        taken[which]!.push(performance.now() - before);
        if (!state) throw new Error('the chart is not there');
      }
    const counts = await Promise.all(charts.map(async (chart) => (await store.events(chart)).length));
    store.close();
    return { taken, counts };
  },
};

export type Bench = typeof bench;
Object.assign(globalThis, { bench });
document.documentElement.dataset['state'] = 'ready';
