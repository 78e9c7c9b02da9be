import type { SoundStop } from './player.ts';

/** The audio clock may stand still so long, in milliseconds, before the device counts as gone. */
const STALL = 500;
const LOOK = 100;

/**
 * Watches that the sound goes on: the context's state, the output device, and a clock that stands
 * still while it says that it runs (a device that has gone without a word). Answers how to stop.
 */
export function watchClock(context: AudioContext, stopped: (reason: SoundStop) => void): () => void {
  const onState = () => {
    // `interrupted` (a call, another program) is a state of some browsers only.
    const state: string = context.state;
    if (state === 'closed') stopped('closed');
    else if (state !== 'running') stopped('suspended');
  };
  const onError = () => stopped('device');
  context.addEventListener('statechange', onState);
  context.addEventListener('error', onError);
  const endDevices = watchDevices(() => stopped('device'));

  let last = context.currentTime;
  let still = 0;
  const timer = setInterval(() => {
    const time = context.currentTime;
    // Looks are counted, not the wall clock: a busy page must not be taken for a lost device.
    still = time === last ? still + LOOK : 0;
    last = time;
    if (still >= STALL) stopped('device');
  }, LOOK);

  return () => {
    clearInterval(timer);
    endDevices();
    context.removeEventListener('statechange', onState);
    context.removeEventListener('error', onError);
  };
}

/** Tells when the last output device has gone, where the browser lists outputs at all. */
function watchDevices(gone: () => void): () => void {
  const media = (globalThis.navigator as Partial<Navigator> | undefined)?.mediaDevices;
  if (!media) return () => undefined;
  const outputs = async () => (await media.enumerateDevices()).filter((d) => d.kind === 'audiooutput').length;
  let before = 0;
  const count = () => outputs().catch(() => 0);
  void count().then((n) => (before = n));
  const onChange = () =>
    void count().then((n) => {
      if (before > 0 && n === 0) gone();
      before = n;
    });
  media.addEventListener('devicechange', onChange);
  return () => media.removeEventListener('devicechange', onChange);
}
