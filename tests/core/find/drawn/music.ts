/** A page of music as PDF operators, y upwards: two systems of four bars, with repeats, a double and a final line. */

/** What is drawn, sorted by what draws it; each in the units of `space`, the distance of two staff lines. */
export interface Parts {
  readonly staves: string;
  readonly lines: string;
  readonly notes: string;
}

export const WIDTH = 600;
export const HEIGHT = 400;

/** Kinds of the bars' edges, in reading order. */
export const KINDS = [
  ['none', 'single'],
  ['single', 'double'],
  ['double', 'repeat-end'],
  ['repeat-end', 'single'],
  ['none', 'single'],
  ['single', 'single'],
  ['single', 'single'],
  ['single', 'final'],
];

export const X0 = 50;
/** Where bars end, from the page's left edge. */
export const EDGES = [180, 300, 420, 550];
/** Heights of the top lines of the two staves, from the foot of the page. */
export const TOPS = [300, 180];
export const SPACE = 6;

const n = (value: number) => value.toFixed(3);
const rectangle = (x: number, y: number, wide: number, high: number) =>
  `${n(x)} ${n(y)} ${n(wide)} ${n(high)} re f\n`;

/** An ellipse of four curves. */
export function ellipse(x: number, y: number, rx: number, ry: number): string {
  const [kx, ky] = [rx * 0.5523, ry * 0.5523];
  const at = (...values: number[]) => values.map(n).join(' ');
  return (
    `${at(x + rx, y)} m ${at(x + rx, y + ky, x + kx, y + ry, x, y + ry)} c ` +
    `${at(x - kx, y + ry, x - rx, y + ky, x - rx, y)} c ${at(x - rx, y - ky, x - kx, y - ry, x, y - ry)} c ` +
    `${at(x + kx, y - ry, x + rx, y - ky, x + rx, y)} c f\n`
  );
}

/** Strokes and dots of a bar line that ends at x, for a staff whose top line is at y. */
export function barLine(kind: string, x: number, y: number): string {
  const low = y - 4 * SPACE;
  const thin = (at: number) => rectangle(at - 0.4, low, 0.8, 4 * SPACE);
  if (kind === 'single') return thin(x);
  if (kind === 'double') return thin(x - 1.5) + thin(x + 1.5);
  const thick = rectangle(x, low, 3, 4 * SPACE);
  if (kind === 'final') return thin(x - 3) + thick;
  const dots = [1.5, 2.5].map((k) => ellipse(x - 7, y - k * SPACE, 1.3, 1.3)).join('');
  return dots + thin(x - 3) + thick;
}

/** The page, drawn with strokes, thin rectangles and filled curves. */
export function plainMusic(): Parts {
  let [staves, lines, notes] = [`0.6 w\n`, '', ''];
  TOPS.forEach((top, s) => {
    for (let i = 0; i < 5; i++)
      staves += `${X0} ${n(top - i * SPACE)} m ${EDGES.at(-1)!} ${n(top - i * SPACE)} l S\n`;
    EDGES.forEach((x, i) => {
      lines += barLine(KINDS[s * 4 + i]![1]!, x, top);
      const from = i === 0 ? X0 : EDGES[i - 1]!;
      for (let k = 1; k <= 3; k++) {
        const [at, high] = [from + (k * (x - from)) / 4, top - (1 + ((k + i + s) % 3)) * SPACE];
        notes += ellipse(at, high, 0.6 * SPACE, 0.5 * SPACE);
        notes += rectangle(at + 0.6 * SPACE - 0.5, high, 0.6, 3.2 * SPACE);
      }
    });
  });
  return { staves, lines, notes };
}
