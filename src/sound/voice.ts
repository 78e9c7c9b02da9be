/**
 * The two timbres of the click: a small block of wood, struck. Each is a few inharmonic partials
 * that all start at their peak, so that the first sample is the onset; higher ones die sooner.
 */
interface Partial {
  /** Hz. */
  readonly frequency: number;
  /** Share of full scale. */
  readonly level: number;
  /** Seconds to 1/e. */
  readonly decay: number;
}

const ACCENT: readonly Partial[] = [
  { frequency: 1568, level: 0.46, decay: 0.011 },
  { frequency: 2630, level: 0.26, decay: 0.006 },
  { frequency: 4410, level: 0.14, decay: 0.003 },
];
const PLAIN: readonly Partial[] = [
  { frequency: 1046.5, level: 0.38, decay: 0.009 },
  { frequency: 1860, level: 0.17, decay: 0.005 },
  { frequency: 3330, level: 0.07, decay: 0.0025 },
];

/** How long a click sounds, seconds; then it is silence to the last bit. */
export const CLICK_SECONDS = 0.06;

/** The samples of one click, full scale ±1, starting at its peak. `sampleRate` in Hz. */
export function clickSamples(voice: 'accent' | 'plain', sampleRate: number): Float32Array<ArrayBuffer> {
  const partials = voice === 'accent' ? ACCENT : PLAIN;
  const length = Math.round(CLICK_SECONDS * sampleRate);
  const samples = new Float32Array(length);
  for (let i = 0; i < length; i++) {
    const time = i / sampleRate;
    // The tail is drawn down to zero, so that the end makes no sound of its own.
    const tail = 1 - i / length;
    for (const { frequency, level, decay } of partials) {
      if (frequency >= sampleRate / 2) continue;
      samples[i]! += level * Math.exp(-time / decay) * Math.cos(2 * Math.PI * frequency * time) * tail;
    }
  }
  return samples;
}
