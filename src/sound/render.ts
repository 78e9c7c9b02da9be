import type { Timeline } from '../core/beat/types.ts';
import { Clicks } from './clicks.ts';

/** Makes an offline context: `OfflineAudioContext` in a browser, a stand-in for it in Node. */
export type Offline = (length: number, sampleRate: number) => OfflineAudioContext;

/**
 * The sound of one pass from its first count-in click to its last bar line, mono, as the player
 * hears it at full volume. The landing click belongs to the gap after and is not in it.
 */
export async function render(
  timeline: Timeline,
  sampleRate: number,
  offline: Offline = (length, rate) => new OfflineAudioContext(1, length, rate),
): Promise<Float32Array<ArrayBuffer>> {
  const context = offline(Math.max(1, Math.round(timeline.end * sampleRate)), sampleRate);
  const clicks = new Clicks(context);
  for (const click of timeline.clicks) clicks.place(click.at, click);
  return (await context.startRendering()).getChannelData(0);
}
