import type { SoundStop } from './player.ts';

/** The audio clock may stand still so long, in milliseconds, before the device counts as gone. */
const STALL = 500;
/**
 * While it has hardly moved it may stand so long: an output may ask for a first buffer and take its time before
 * it plays it (Chromium on PulseAudio up to 1.2 s on a busy machine).
 */
const START = 3000;
/** Seconds after which the output has surely started. */
const STARTED = 0.25;
/** An output that renders answers a resume in a few milliseconds; so long it may take on a busy machine. */
const ANSWER = 600;
const LOOK = 100;

/**
 * Watches that the sound goes on: the context's state, the output device, and the ways of a device that has
 * gone without a word: a clock that stands still while it says that it runs, and a clock that goes on without
 * an output (Firefox puts the system's timer in its place). To a context that runs, a resume is no more than a
 * question, but only a real output answers it. Answers how to stop.
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

  const first = context.currentTime;
  let last = first;
  let still = 0;
  /** How long the open question has been waiting; null when there is none. */
  let asked: number | null = null;
  let ended = false;
  const timer = setInterval(() => {
    const time = context.currentTime;
    const started = time - first >= STARTED;
    // Looks are counted, not the wall clock: a busy page must not be taken for a lost device.
    still = time === last ? still + LOOK : 0;
    last = time;
    if (asked !== null) asked += LOOK;
    if (still >= (started ? STALL : START) || (asked ?? 0) >= ANSWER) stopped('device');
    else if (asked === null && started && !ended) {
      asked = 0;
      const answered = () => (asked = null);
      context.resume().then(answered, answered);
    }
  }, LOOK);

  return () => {
    ended = true;
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
