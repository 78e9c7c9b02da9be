import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { OfflineAudioContext as Offline } from 'node-web-audio-api';
import { describe, expect, it } from 'vitest';
import wavefile from 'wavefile';
import { timelineOf } from '../../src/core/beat/timeline.ts';
import { render } from '../../src/sound/render.ts';
import { CLICK_SECONDS, clickSamples } from '../../src/sound/voice.ts';

const offline = (length: number, rate: number) => new Offline(1, length, rate);

/** Silence is nothing above 1e-4 of full scale; an onset is the first sample above it after silence. */
const SILENCE = 1e-4;

function onsets(samples: Float32Array, sampleRate: number): number[] {
  const found: number[] = [];
  let quiet = Infinity;
  samples.forEach((sample, i) => {
    if (Math.abs(sample) <= SILENCE) quiet++;
    else {
      // A wave crosses zero; only a silence of 5 ms ends a click.
      if (quiet > sampleRate * 0.005) found.push(i);
      quiet = 0;
    }
  });
  return found;
}

describe('the sound of a click', () => {
  it.each([8000, 22050, 44100, 48000, 96000])('starts at its peak and ends in silence at %i Hz', (rate) => {
    for (const voice of ['accent', 'plain'] as const) {
      const samples = clickSamples(voice, rate);
      const peak = samples.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0);
      expect(samples[0]).toBe(peak);
      expect(peak).toBeGreaterThan(0.3);
      expect(peak).toBeLessThanOrEqual(1);
      expect(samples.length).toBe(Math.round(CLICK_SECONDS * rate));
      expect(Math.abs(samples.at(-1)!)).toBeLessThan(SILENCE);
    }
  });

  it('has two timbres that are told apart by pitch, the accent louder', () => {
    const crossings = (samples: Float32Array) =>
      samples.slice(0, 480).filter((s, i, all) => i > 0 && s * all[i - 1]! < 0).length;
    const [accent, plain] = [clickSamples('accent', 48000), clickSamples('plain', 48000)];
    expect(crossings(accent)).toBeGreaterThan(crossings(plain) * 1.2);
    expect(accent[0]).toBeGreaterThan(plain[0]! * 1.2);
  });
});

describe('a rendered pass', () => {
  // Beat n sounds at n · 60/bpm seconds by the definition of the tempo; the nearest sample is at most half away.
  it.each([
    [60, 48000, 4],
    [63, 44100, 4],
    [97, 44100, 3],
    [120, 22050, 5],
    [143.5, 48000, 4],
    [240, 96000, 4],
    [400, 48000, 7],
  ])('at %f bpm and %i Hz clicks within half a sample of 60/bpm', async (bpm, rate, beats) => {
    const timeline = timelineOf({ bpm, bars: [{ beats }, { beats }], countIn: { bars: 1 } });
    const samples = await render(timeline, rate, offline);
    const heard = onsets(samples, rate);
    expect(heard).toHaveLength(3 * beats);
    heard.forEach((frame, n) => {
      expect(Math.abs(frame - (n * 60 * rate) / bpm)).toBeLessThanOrEqual(0.5);
      expect(Math.abs(samples[frame]!)).toBeGreaterThan(1e-3);
    });
  });

  it('stands still between the clicks and stops at the last bar line', async () => {
    const timeline = timelineOf({ bpm: 60, bars: [{ beats: 4 }], countIn: { beats: 1 } });
    const samples = await render(timeline, 44100, offline);
    expect(samples).toHaveLength(5 * 44100);
    for (let second = 0; second < 5; second++) {
      const rest = samples.slice(second * 44100 + 44100 * CLICK_SECONDS + 1, (second + 1) * 44100);
      expect(rest.every((sample) => sample === 0)).toBe(true);
    }
  });
});

describe('the timeline command', () => {
  const root = resolve(import.meta.dirname, '../..');
  const call = (...args: string[]) =>
    execFileSync(process.execPath, ['src/cli/run.mjs', 'timeline', ...args], {
      cwd: root,
      encoding: 'utf8',
      env: { ...process.env, INIT_CWD: folder },
      stdio: ['ignore', 'pipe', 'pipe'],
    });
  const folder = mkdtempSync(join(tmpdir(), 'timeline-'));

  it('lists count-in and span, and writes the same clicks as sound', () => {
    const args = ['--bpm', '137', '--beats', '3', '--bars', '2', '--count-in', '2', '--sample-rate', '44100'];
    const { clicks } = JSON.parse(call(...args, '--wav', 'pass.wav'));
    expect(clicks).toHaveLength(8);
    expect(clicks.map((click: any) => click.countIn)).toEqual([true, true, ...Array(6).fill(false)]);
    expect(clicks.map((click: any) => click.accent)).toEqual([0, 0, 1, 0, 0, 1, 0, 0].map(Boolean));
    const wav = new wavefile.WaveFile(readFileSync(join(folder, 'pass.wav')));
    const heard = onsets(wav.getSamples(false, Float32Array) as unknown as Float32Array, 44100);
    expect(heard).toHaveLength(8);
    heard.forEach((frame, n) => expect(Math.abs(frame - clicks[n].at * 44100)).toBeLessThanOrEqual(0.5));
  });

  it.each([
    [['--beats', '4'], '--bpm is missing'],
    [['--bpm=-3'], '--bpm must be'],
    [['--bpm', '60', '--bars', '0'], '--bars must be'],
    [['--bpm', '60', '--wav', 'no/such/folder/a.wav'], 'ENOENT'],
  ])('refuses %j in one line', (args, line) => {
    let error: any;
    try {
      call(...args);
    } catch (thrown) {
      error = thrown;
    }
    expect(error).toMatchObject({ status: 1, stdout: '' });
    expect(error.stderr).toContain(line);
    expect(error.stderr.trim().split('\n')).toHaveLength(1);
  });

  it('leaves nothing behind', () => rmSync(folder, { recursive: true }));
});
