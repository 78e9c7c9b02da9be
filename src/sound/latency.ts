/** Time for an output to settle after it has started, and between two questions, in milliseconds. */
const SETTLE = 400;
const AGAIN = 1000;
/** A step of the clock is fresh when the look before it is not older, in milliseconds: timers come every 4 or 5. */
const FRESH = 7;

/**
 * Follows the output's own latency, in seconds: it is 0 until the output runs and changes with the device.
 * Answers how to stop.
 *
 * It is asked for just after the clock has stepped, never while a buffer may be on its way. Firefox calls
 * the sound server from the getter with the audio graph locked; a server that is waiting for that graph to
 * render then never answers, and the page stands still for ever (seen in Firefox 153 on PulseAudio: main
 * thread in `outputLatency`, graph thread waiting for its lock). Once it has answered with more than 0 Firefox
 * remembers, and the question is harmless.
 */
export function followLatency(context: AudioContext, told: (seconds: number) => void): () => void {
  // Some browsers know only the latency of the context, or none.
  const known = context as Partial<AudioContext>;
  let timer = setTimeout(wait, SETTLE);

  function wait(): void {
    look(context.currentTime, performance.now());
  }
  function look(last: number, lookedAt: number): void {
    const [time, now] = [context.currentTime, performance.now()];
    // A step that a busy page sees late says nothing about the next buffer.
    if (time === last || now - lookedAt > FRESH) {
      timer = setTimeout(() => look(time, now), 1);
      return;
    }
    told(known.outputLatency ?? known.baseLatency ?? 0);
    timer = setTimeout(wait, AGAIN);
  }
  return () => clearTimeout(timer);
}
