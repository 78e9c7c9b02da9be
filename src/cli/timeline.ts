/** `npm run -s timeline`: the clicks of one pass, and its sound as the extension's own code renders it. */
import { writeFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { timelineOf } from '../core/beat/timeline.ts';
import type { Timeline } from '../core/beat/types.ts';
import { render } from '../sound/render.ts';
import { BadInput, numberOf, print, readArgs, resolvePath, run } from './args.ts';

/** Longer than any tune; keeps a slip of the hand from filling the disk. */
const MOST_SECONDS = 3600;

const OPTIONS = {
  bpm: { type: 'string' },
  beats: { type: 'string' },
  bars: { type: 'string' },
  'count-in': { type: 'string' },
  'sample-rate': { type: 'string' },
  wav: { type: 'string' },
} as const;

async function main(): Promise<void> {
  const { values } = readArgs(OPTIONS);
  if (values.bpm === undefined) throw new BadInput('--bpm is missing: the tempo in beats a minute');
  const bpm = numberOf('bpm', values.bpm, { above: 0, max: 1000 });
  const beats = numberOf('beats', values.beats ?? '4', { above: 0, max: 64 });
  const count = numberOf('bars', values.bars ?? '1', { min: 1, max: 10_000, whole: true });
  const countIn = numberOf('count-in', values['count-in'] ?? '4', { min: 0, max: 640, whole: true });
  const sampleRate = numberOf('sample-rate', values['sample-rate'] ?? '48000', {
    min: 8000,
    max: 192_000,
    whole: true,
  });
  const bars = Array.from({ length: count }, () => ({ beats }));
  const timeline = timelineOf({ bpm, bars, countIn: { beats: countIn } });
  if (timeline.end > MOST_SECONDS) throw new BadInput('the pass would last more than an hour');
  if (values.wav !== undefined) await writeWav(resolvePath(values.wav), timeline, sampleRate);
  print({ clicks: timeline.clicks.map(({ at, accent, countIn }) => ({ at, accent, countIn })) });
}

/** Mono, 32-bit float: what was rendered, to the last bit. */
async function writeWav(path: string, timeline: Timeline, sampleRate: number): Promise<void> {
  // Only here, since loading them takes longer than the rest of the command.
  const { OfflineAudioContext: Offline } = await import('node-web-audio-api');
  // A loader may or may not wrap a CommonJS module in a default; require never does.
  const { WaveFile } = createRequire(import.meta.url)('wavefile') as typeof import('wavefile');
  const samples = await render(timeline, sampleRate, (length, rate) => new Offline(1, length, rate));
  const wav = new WaveFile();
  wav.fromScratch(1, sampleRate, '32f', samples);
  await writeFile(path, wav.toBuffer());
}

await run('timeline', main);
