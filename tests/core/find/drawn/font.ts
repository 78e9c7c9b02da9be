/** The page's music in a font laid out as SMuFL 1.4 says: an em is four spaces, origins on the bottom line. */
import type { AddStream } from './file.ts';
import { EDGES, KINDS, plainMusic, SPACE, TOPS, X0 } from './music.ts';
import { trueType, type Glyph } from './truetype.ts';

const THIN = 33;
const dot = (x: number, y: number) => [x, y - 55, 110, 110] as const;

/** Glyphs by code point: bar lines, signs, a notehead, five staff lines. What they look like is ours. */
const GLYPHS: Record<number, Glyph> = {
  0xe030: { rectangles: [[0, 0, THIN, 1000]], advance: THIN },
  0xe031: {
    rectangles: [
      [0, 0, THIN, 1000],
      [125, 0, THIN, 1000],
    ],
    advance: 158,
  },
  0xe032: {
    rectangles: [
      [0, 0, THIN, 1000],
      [125, 0, 125, 1000],
    ],
    advance: 250,
  },
  0xe041: {
    rectangles: [dot(0, 375), dot(0, 625), [180, 0, THIN, 1000], [305, 0, 125, 1000]],
    advance: 430,
  },
  0xe014: {
    rectangles: [0, 1, 2, 3, 4].map((i) => [0, i * 250 - 12, 2083, 25] as const),
    advance: 2083,
  },
  0xe0a4: { rectangles: [[0, -125, 295, 250]], advance: 295 },
  0xe047: { rectangles: [[0, 0, 500, 750]], advance: 500 },
  0x20: { rectangles: [], advance: 600 },
  0xe048: { rectangles: [[0, 0, 900, 900]], advance: 900 },
};

const LINES: Record<string, number> = { single: 0xe030, double: 0xe031, final: 0xe032, 'repeat-end': 0xe041 };
const hex = (value: number) => value.toString(16).padStart(4, '0');

/** With `spaces`, a blank stands in every bar, and what the font draws for letters that it has not is a bar line. */
export function smuflFont(withStaves: boolean, spaces = false) {
  const codes = Object.keys(GLYPHS).map(Number);
  const idOf = (code: number) => codes.indexOf(code) + 1;
  const text: string[] = [];
  const set = (code: number, x: number, y: number) =>
    text.push(`1 0 0 1 ${x} ${y} Tm <${hex(idOf(code))}> Tj`);
  const size = 4 * SPACE;
  TOPS.forEach((top, s) => {
    const low = top - size;
    if (withStaves) for (let k = 0; k < 10; k++) set(0xe014, X0 + k * 50, low);
    EDGES.forEach((x, i) => {
      const code = LINES[KINDS[s * 4 + i]![1]!]!;
      // The middle of its strokes is where the bar ends; they are as high as the staff.
      const strokes = GLYPHS[code]!.rectangles.filter(([, , , high]) => high === 1000);
      const [first, last] = [strokes[0]!, strokes.at(-1)!];
      set(code, x - ((first[0] + last[0] + last[2]) / 2000) * size, low);
      const from = i === 0 ? X0 : EDGES[i - 1]!;
      for (let k = 1; k <= 3; k++)
        set(0xe0a4, from + (k * (x - from)) / 4 - 0.6 * SPACE, top - (1 + ((k + i + s) % 3)) * SPACE);
      if (spaces) set(0x20, from + (x - from) / 8, low);
    });
  });
  set(0xe047, EDGES[0]! + 3, TOPS[0]! + 15);
  set(0xe048, X0, TOPS[1]! + 15);
  const missing = spaces ? GLYPHS[0xe030]!.rectangles : [];
  const glyphs = [{ rectangles: missing, advance: 500 }, ...Object.values(GLYPHS)];
  const font = (add: AddStream) => {
    const map = codes.map((code) => `<${hex(idOf(code))}> <${hex(code)}>`).join('\n');
    return {
      Type: 'Font',
      Subtype: 'Type0',
      BaseFont: 'Notes',
      Encoding: 'Identity-H',
      ToUnicode: add(
        `/CIDInit /ProcSet findresource begin 12 dict begin begincmap /CMapType 2 def\n1 begincodespacerange <0000> <FFFF> endcodespacerange\n${codes.length} beginbfchar\n${map}\nendbfchar\nendcmap end end`,
      ),
      DescendantFonts: [
        {
          Type: 'Font',
          Subtype: 'CIDFontType2',
          BaseFont: 'Notes',
          CIDSystemInfo: { Registry: 'Adobe', Ordering: 'Identity', Supplement: 0 },
          CIDToGIDMap: 'Identity',
          DW: 1000,
          W: [0, glyphs.map(({ advance }) => advance)],
          FontDescriptor: {
            Type: 'FontDescriptor',
            FontName: 'Notes',
            Flags: 4,
            FontBBox: [0, -500, 2100, 1000],
            ItalicAngle: 0,
            Ascent: 1000,
            Descent: -250,
            CapHeight: 1000,
            StemV: 80,
            FontFile2: add(trueType(glyphs)),
          },
        },
      ],
    };
  };
  const stems = plainMusic()
    .notes.split('\n')
    .filter((line) => line.endsWith('re f'))
    .join('\n');
  return { font, content: `BT /S ${size} Tf ${text.join('\n')} ET ${stems}` };
}
