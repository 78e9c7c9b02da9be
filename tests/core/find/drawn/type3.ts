/** The page's music as a Type 3 font (ISO 32000-1, 9.6.5), whose letters are small drawings. */
import { barLine, EDGES, ellipse, KINDS, plainMusic, SPACE, TOPS, X0 } from './music.ts';
import type { AddStream } from './file.ts';

/** A note head of `across` × `down` pixels, as fonts made of pixels have it: an image mask, whose zeros are painted. */
function headInPixels(across = 48, down = 40): string {
  const isInk = (x: number, y: number) => Math.hypot((2 * x + 1) / across - 1, (2 * y + 1) / down - 1) < 1;
  const rows = Array.from({ length: down }, (_, y) =>
    Array.from({ length: across / 4 }, (_, nibble) =>
      [0, 1, 2, 3].reduce((bits, k) => 2 * bits + (isInk(4 * nibble + k, y) ? 0 : 1), 0).toString(16),
    ).join(''),
  );
  const place = `${1.2 * SPACE} 0 0 ${SPACE} ${-0.6 * SPACE} ${-0.5 * SPACE} cm`;
  return `${place} BI /W ${across} /H ${down} /IM true /BPC 1 /F /AHx ID ${rows.join('')}> EI`;
}

/** Letters are drawn in thousandths of a unit and set at size 1, so that a unit of the drawing is a point. */
export function drawnFont(withStaves: boolean, heads: 'curves' | 'pixels' = 'curves') {
  const kinds = ['single', 'double', 'repeat-end', 'final'];
  const letter = (drawing: string) => `1000 0 d0 1000 0 0 1000 0 0 cm ${drawing}`;
  const lines = Array.from({ length: 5 }, (_, i) => `0 ${-i * SPACE - 0.3} 50 0.6 re f `).join('');
  const drawings: Record<string, string> = {
    ...Object.fromEntries(kinds.map((kind, i) => [`b${i}`, letter(barLine(kind, 0, 0))])),
    head: letter(heads === 'pixels' ? headInPixels() : ellipse(0, 0, 0.6 * SPACE, 0.5 * SPACE)),
    staff: letter(lines),
  };
  const names = Object.keys(drawings);
  const text: string[] = [];
  const set = (name: string, x: number, y: number) =>
    text.push(`1 0 0 1 ${x} ${y} Tm <${(65 + names.indexOf(name)).toString(16)}> Tj`);
  TOPS.forEach((top, s) => {
    if (withStaves) for (let x = X0; x < EDGES.at(-1)!; x += 50) set('staff', x, top);
    EDGES.forEach((x, i) => set(`b${kinds.indexOf(KINDS[s * 4 + i]![1]!)}`, x, top));
    EDGES.forEach((x, i) => {
      const from = i === 0 ? X0 : EDGES[i - 1]!;
      for (let k = 1; k <= 3; k++)
        set('head', from + (k * (x - from)) / 4, top - (1 + ((k + i + s) % 3)) * SPACE);
    });
  });
  const font = (add: AddStream) =>
    Object.assign(
      {
        Type: 'Font',
        Subtype: 'Type3',
        FontBBox: [-1000, -40000, 60000, 10000],
        FontMatrix: [0.001, 0, 0, 0.001, 0, 0],
        FirstChar: 65,
        LastChar: 65 + names.length - 1,
        Widths: names.map(() => 1000),
        Encoding: { Type: 'Encoding', Differences: [65, ...names] },
        Resources: {},
        CharProcs: Object.fromEntries(names.map((name) => [name, add(drawings[name]!)])),
      },
      {},
    );
  return { font, content: `BT /T 1 Tf ${text.join('\n')} ET ${stems()}` };
}

/** Stems stay strokes: no font has them. */
const stems = () =>
  plainMusic()
    .notes.split('\n')
    .filter((line) => line.endsWith('re f'))
    .join('\n');
