/** Pages that hold no music, as PDF operators: the same for ever for a kind and a seed. */
import { Random } from '../../../corpus/tunes/random.ts';
import type { PageSpec } from './file.ts';
import { ellipse } from './music.ts';

const WIDTH = 595;
const HEIGHT = 842;
const WORDS =
  'bar line order staff total sum item page note beat due paid north road river street one two of the'.split(
    ' ',
  );

const n = (value: number) => value.toFixed(2);
const line = (x0: number, y0: number, x1: number, y1: number) =>
  `${n(x0)} ${n(y0)} m ${n(x1)} ${n(y1)} l S\n`;
const box = (x: number, y: number, w: number, h: number, how = 'S') =>
  `${n(x)} ${n(y)} ${n(w)} ${n(h)} re ${how}\n`;
const text = (words: string, x: number, y: number, size: number) =>
  `BT /F ${n(size)} Tf 1 0 0 1 ${n(x)} ${n(y)} Tm (${words}) Tj ET\n`;
const some = (random: Random, count: number) =>
  Array.from({ length: count }, () => random.pick(WORDS)).join(' ');
const times = (count: number, one: (i: number) => string) =>
  Array.from({ length: count }, (_, i) => one(i)).join('');

/** Five lines as staves have, five times or more to a page. */
function staves(random: Random, space: number, more: (top: number) => string): string {
  const step = space * (9 + random.below(5));
  return times(Math.floor((HEIGHT - 100) / step), (s) => {
    const top = HEIGHT - 50 - s * step;
    return times(5, (i) => line(40, top - i * space, WIDTH - 40, top - i * space)) + more(top);
  });
}

export const kinds: Record<string, (random: Random) => string> = {
  text: (random) => times(45, (i) => text(some(random, 5 + random.below(9)), 50, 790 - i * 16, 10)),
  table(random) {
    const [rows, columns, high] = [5 + random.below(40), 2 + random.below(8), 6 + random.below(14)];
    const wide = 500 / columns;
    return (
      times(rows + 1, (i) => line(50, 790 - i * high, 550, 790 - i * high)) +
      times(columns + 1, (i) => line(50 + i * wide, 790, 50 + i * wide, 790 - rows * high)) +
      times(rows * columns, (k) =>
        random.chance(0.7)
          ? text(
              some(random, 1),
              53 + (k % columns) * wide,
              793 - (Math.floor(k / columns) + 1) * high,
              high * 0.6,
            )
          : '',
      )
    );
  },
  /** Tables of four rows: five rules, and uprights from the first to the last. */
  'rows of four': (random) =>
    times(6, (t) => {
      const [top, high] = [780 - t * 120, 8 + random.below(12)];
      const edges = [50, ...Array.from({ length: 2 + random.below(6) }, () => 60 + random.below(480)), 550];
      return (
        times(5, (i) => line(50, top - i * high, 550, top - i * high)) +
        edges.map((x) => line(x, top, x, top - 4 * high)).join('') +
        times(12, () =>
          text(some(random, 1), 55 + random.below(440), top - high * (1 + random.below(4)) + 2, high * 0.7),
        )
      );
    }),
  form: (random) =>
    times(14, (i) => {
      const y = 770 - i * 50;
      const fields = times(3, (k) => box(60 + k * 170, y - 18, 40 + random.below(110), 14));
      return text(some(random, 3), 60, y, 9) + fields + times(5, (k) => box(500 + k * 10, y, 8, 8));
    }),
  invoice: (random) =>
    text(some(random, 2), 50, 780, 22) +
    times(12, (i) => text(some(random, 4), 55, 640 - i * 18, 9) + line(50, 636 - i * 18, 545, 636 - i * 18)) +
    [50, 300, 400, 480, 545].map((x) => line(x, 654, x, 438)).join('') +
    box(380, 380, 165, 40),
  plot(random) {
    const lines = 4 + random.below(4);
    return (
      times(lines, (i) => line(80, 300 + i * 60, 520, 300 + i * 60)) +
      times(9, (i) => line(80 + i * 55, 300, 80 + i * 55, 300 + (lines - 1) * 60)) +
      times(60, (i) => ellipse(80 + i * 7, 300 + random.below(240), 2.5, 2)) +
      times(9, (i) => text(String(i * 10), 76 + i * 55, 286, 9))
    );
  },
  bars: (random) =>
    times(5, (i) => line(70, 400 + i * 30, 540, 400 + i * 30)) +
    times(20, (i) => box(80 + i * 23, 400, 3 + random.below(14), random.below(120), 'f')),
  map: (random) =>
    times(150, () => {
      let [x, y] = [random.below(WIDTH), random.below(HEIGHT)];
      const points = times(12, () => {
        x += random.below(41) - 20;
        y += random.below(41) - 20;
        return `${x} ${y} l `;
      });
      return `${x} ${y} m ${points} S\n${random.chance(0.2) ? text(some(random, 2), x, y, 7) : ''}`;
    }),
  drawing: (random) =>
    times(200, () => {
      const [x, y, w] = [random.below(500), random.below(780), 2 + random.below(60)];
      if (random.chance(0.3)) return ellipse(x, y, w / 2, w / 3);
      return random.chance(0.5)
        ? box(x, y, w, random.below(40), random.pick(['S', 'f']))
        : line(x, y, x + w, y);
    }),
  ruled(random) {
    const step = 7 + random.below(18);
    return (
      times(Math.floor(740 / step), (i) => line(30, 790 - i * step, 565, 790 - i * step)) +
      line(80, 20, 80, 820)
    );
  },
  squared(random) {
    const step = 6 + random.below(12);
    return (
      times(Math.floor(760 / step), (i) => line(30, 800 - i * step, 565, 800 - i * step)) +
      times(Math.floor(535 / step), (i) => line(30 + i * step, 40, 30 + i * step, 800))
    );
  },
  'fingering grids': (random) =>
    times(40, (k) => {
      const [x, y, step] = [60 + (k % 8) * 62, 740 - Math.floor(k / 8) * 140, 6 + random.below(3)];
      const strings = random.pick([4, 5, 6]);
      return (
        times(strings, (i) => line(x + i * step, y, x + i * step, y - 4 * step)) +
        times(5, (i) => line(x, y - i * step, x + (strings - 1) * step, y - i * step)) +
        times(3, () =>
          ellipse(x + random.below(strings) * step, y - (random.below(4) + 0.5) * step, 2.2, 2.2),
        ) +
        text('CDEFGAB'.charAt(random.below(7)), x + step, y + 8, 11)
      );
    }),
  'manuscript paper': (random) => staves(random, 4 + random.below(6), () => ''),
  'manuscript paper with a frame': (random) => {
    const space = 5 + random.below(4);
    return staves(random, space, (top) =>
      [40, WIDTH - 40].map((x) => line(x, top, x, top - 4 * space)).join(''),
    );
  },
  'manuscript paper with words': (random) =>
    staves(random, 5 + random.below(3), (top) => text(some(random, 6), 45, top + 8, 9)) +
    text('Name', 45, 815, 12),
  tablature: (random) =>
    times(8, (s) => {
      const top = 780 - s * 90;
      return (
        times(6, (i) => line(40, top - i * 8, 555, top - i * 8)) +
        times(5, (i) => line(40 + i * 128.75, top, 40 + i * 128.75, top - 40)) +
        times(24, (k) => text(String(random.below(12)), 50 + k * 21, top - random.below(6) * 8 - 3, 8))
      );
    }),
};

/** A page of this kind. */
export function noMusic(kind: string, seed: number): PageSpec {
  const random = new Random(seed * 7919 + kind.length);
  const thickness = random.pick([0.3, 0.5, 0.8, 1.2]);
  return {
    width: WIDTH,
    height: HEIGHT,
    content: `${thickness} w\n${kinds[kind]!(random)}`,
    resources: () => ({ Font: { F: { Type: 'Font', Subtype: 'Type1', BaseFont: 'Helvetica' } } }),
  };
}
