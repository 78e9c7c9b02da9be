import type { Bar, Marks } from '../../../src/core/chart/types.ts';

type Signs = Partial<Omit<Bar, 'id' | 'x0' | 'x1'>>;

/** Marks for tests: bars named b1, b2, …, four to a line, with the signs given for each. */
export function marksOf(signs: readonly Signs[], extra: Partial<Marks> = {}): Marks {
  const bars = signs.map((sign, i): Bar => {
    const column = i % 4;
    return { id: `b${i + 1}`, x0: 0.1 + column * 0.2, x1: 0.3 + column * 0.2, ...sign };
  });
  const lines = Array.from({ length: Math.ceil(bars.length / 4) }, (_, line) => ({
    id: `s${line + 1}`,
    page: Math.floor(line / 8),
    top: 0.1 + (line % 8) * 0.1,
    bottom: 0.13 + (line % 8) * 0.1,
    bars: bars.slice(line * 4, line * 4 + 4),
  }));
  return { version: 1, systems: lines, meter: { beats: 4, value: 4 }, unit: null, ...extra };
}

/** `count` bars without signs, with some changed: {0: {…}} changes the first. */
export function plainBars(count: number, changed: Record<number, Signs> = {}): Signs[] {
  return Array.from({ length: count }, (_, i) => changed[i] ?? {});
}

/** A A B A of eight bars each, written out: the second and last A are marked as the first. */
export function aaba(): Marks {
  return marksOf(
    Array.from({ length: 32 }, (_, i): Signs => {
      const section = ['A', 'A', 'B', 'A'][i / 8];
      const isTwin = (i >= 8 && i < 16) || i >= 24;
      return { ...(section === undefined ? {} : { section }), ...(isTwin ? { as: `b${(i % 8) + 1}` } : {}) };
    }),
  );
}
