import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { timelineOf } from '../../src/core/beat/timeline.ts';
import { Player } from '../../src/sound/player.ts';

/** A context whose clock the test moves by hand; it notes on which sample each click starts. */
class FakeContext extends EventTarget {
  sampleRate = 48000;
  currentTime = 0;
  state: string = 'suspended';
  outputLatency = 0;
  destination = {};
  starts: number[] = [];
  stopped: number[] = [];
  hangs = false;
  resume() {
    if (this.hangs) return new Promise(() => undefined);
    this.become('running');
    return Promise.resolve();
  }
  close() {
    this.become('closed');
    return Promise.resolve();
  }
  become(state: string) {
    this.state = state;
    this.dispatchEvent(new Event('statechange'));
  }
  createGain() {
    return { gain: { value: 1, setTargetAtTime: () => undefined }, connect: () => undefined };
  }
  createBuffer() {
    return { copyToChannel: () => undefined };
  }
  createBufferSource() {
    let frame = 0;
    return {
      connect: () => undefined,
      disconnect: () => undefined,
      start: (at: number) => this.starts.push((frame = Math.round(at * this.sampleRate))),
      stop: () => this.stopped.push(frame),
    };
  }
}

const line = timelineOf({ bpm: 60, bars: [{ beats: 4 }], countIn: { bars: 1 } });
const frames = (...seconds: number[]) => seconds.map((second) => second * 48000);

describe('the live sound', () => {
  let context: FakeContext;
  let made: FakeContext[];
  let player: Player;
  const stopped = vi.fn();

  beforeEach(async () => {
    vi.useFakeTimers();
    stopped.mockClear();
    made = [];
    player = new Player({
      stopped,
      volume: 1,
      context: () => {
        made.push((context = new FakeContext()));
        return context as unknown as AudioContext;
      },
    });
    await player.start();
  });
  afterEach(() => vi.useRealTimers());

  /** Real time and the audio clock go on together. */
  async function play(seconds: number, moving = true): Promise<void> {
    for (let i = 0; i < Math.round(seconds * 100); i++) {
      if (moving) context.currentTime += 0.01;
      await vi.advanceTimersByTimeAsync(10);
    }
  }

  it('hands over the whole pass with its landing before it starts, no timer in between', () => {
    player.schedule(1, line);
    expect(context.starts).toEqual(frames(1, 2, 3, 4, 5, 6, 7, 8, 9));
  });

  it('sounds one click where a landing is also the first of the next count-in', () => {
    player.schedule(1, line);
    player.schedule(9, line);
    expect(context.starts).toEqual(frames(...Array.from({ length: 17 }, (_, i) => i + 1)));
  });

  it('takes back what has not sounded, and schedules anew in its place', () => {
    player.schedule(1, line);
    player.cancel(5.001);
    expect(context.stopped).toEqual(frames(6, 7, 8, 9));
    context.starts = [];
    player.schedule(5, line);
    expect(context.starts).toEqual(frames(6, 7, 8, 9, 10, 11, 12, 13));
  });

  it('leaves out what is past rather than playing it late', () => {
    context.currentTime = 3.5;
    player.schedule(1, line);
    expect(context.starts[0]).toBe(4 * 48000);
  });

  it('hears by the latency that the output has now, asked for only after a step of the clock', async () => {
    let asked = 0;
    Object.defineProperty(context, 'outputLatency', { get: () => (asked++, latency) });
    let latency = 0.25;
    vi.advanceTimersByTime(450);
    expect([asked, player.heardAt()]).toEqual([0, context.currentTime]);
    await play(0.05);
    expect(player.heardAt()).toBeCloseTo(context.currentTime - 0.25, 9);
    latency = 0.3;
    await play(1.1);
    expect(player.heardAt(0.5)).toBeCloseTo(context.currentTime - 0.8, 9);
    expect(asked).toBe(2);
  });

  it.each(['suspended', 'interrupted'])('says once that it was %s', async (state) => {
    context.become(state);
    await play(2, false);
    expect(stopped.mock.calls).toEqual([['suspended']]);
  });

  it('says that the context was closed, and opens another without setting the clock back', async () => {
    await play(5);
    player.schedule(6, line);
    context.become('closed');
    expect(stopped.mock.calls).toEqual([['closed']]);
    expect(await player.start()).toBeNull();
    expect(made).toHaveLength(2);
    expect(player.now()).toBeCloseTo(5, 5);
    player.schedule(6, line);
    expect(context.starts[0]! / 48000).toBeCloseTo(1, 3);
  });

  it('takes a clock that stands still while running for a lost device, after half a second', async () => {
    await play(3);
    await play(0.35, false);
    expect(stopped).not.toHaveBeenCalled();
    await play(0.3, false);
    expect(stopped.mock.calls).toEqual([['device']]);
  });

  it('gives an output three seconds to start, its first buffer apart', async () => {
    await play(0.01);
    await play(2.8, false);
    expect(stopped).not.toHaveBeenCalled();
    await play(0.3, false);
    expect(stopped.mock.calls).toEqual([['device']]);
  });

  it('takes a clock that runs while no output answers for a lost device', async () => {
    await play(3);
    context.hangs = true;
    await play(0.5);
    expect(stopped).not.toHaveBeenCalled();
    await play(0.4);
    expect(stopped.mock.calls).toEqual([['device']]);
  });

  it('does not take a busy page for a lost device', async () => {
    await play(1);
    // Timers come late, all at once, and the clock is seen again only after that.
    vi.advanceTimersByTime(300);
    context.currentTime += 3;
    await play(2);
    expect(stopped).not.toHaveBeenCalled();
  });

  it('answers why not when the browser lets nothing sound', async () => {
    const silent = new Player({
      stopped,
      volume: 1,
      context: () => Object.assign(new FakeContext(), { hangs: true }) as unknown as AudioContext,
    });
    const started = silent.start();
    await vi.advanceTimersByTimeAsync(3100);
    expect(await started).toBe('silent');
    const none = new Player({
      stopped,
      volume: 1,
      context: () => {
        throw new Error('no device');
      },
    });
    expect(await none.start()).toBe('device');
  });
});
