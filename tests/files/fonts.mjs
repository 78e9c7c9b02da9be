/** Pages of text in fonts as players meet them: embedded, missing, odd. */
import { readFileSync } from 'node:fs';
import { first, packed, pagesFile, stream } from './pdf.mjs';

const fonts = new URL('../../node_modules/pdfjs-dist/standard_fonts/', import.meta.url);
const font = (name) => readFileSync(new URL(name, fonts));

const words = 'Slow Air in G, with a turn';
const chords = 'G  Am7  D7(b9)  Bm7  E7';
/** Two lines of text, large enough that a wrong letter shows. */
const page = (text = words, more = chords, show = (line) => `(${line.replace(/[()]/g, '\\$&')})`) =>
  `BT /F 40 Tf 50 700 Td ${show(text)} Tj 0 -90 Td ${show(more)} Tj ET`;

const resources = `/Font << /F ${first(1)} 0 R >>`;
const textFile = (more, content = page()) => pagesFile([{ content, resources }], { more });

/** One of the fonts that every reader has: nothing is embedded. */
export const standard = (name, content) =>
  textFile([`<< /Type /Font /Subtype /Type1 /BaseFont /${name} >>`], content);

const descriptor = (name, flags, more = '') =>
  `<< /Type /FontDescriptor /FontName /${name} /Flags ${flags} /FontBBox [-200 -250 1200 950] /ItalicAngle 0 ` +
  `/Ascent 905 /Descent -212 /CapHeight 700 /StemV 80 ${more} >>`;

const at = (n) => `${first(1) + n} 0 R`;
const widths = (width) => `/FirstChar 32 /LastChar 126 /Widths [${Array(95).fill(width).join(' ')}]`;

export const trueType = (data = font('LiberationSans-Regular.ttf')) =>
  textFile([
    `<< /Type /Font /Subtype /TrueType /BaseFont /AAAAAA+Sans ${widths(560)} /Encoding /WinAnsiEncoding ` +
      `/FontDescriptor ${at(1)} >>`,
    descriptor('AAAAAA+Sans', 32, `/FontFile2 ${at(2)}`),
    packed(data, `/Length1 ${data.length}`),
  ]);

export const compact = () =>
  textFile([
    `<< /Type /Font /Subtype /Type1 /BaseFont /AAAAAA+Serif ${widths(520)} /Encoding /WinAnsiEncoding ` +
      `/FontDescriptor ${at(1)} >>`,
    descriptor('AAAAAA+Serif', 34, `/FontFile3 ${at(2)}`),
    packed(font('FoxitSerif.pfb'), '/Subtype /Type1C'),
  ]);

/** Glyphs by number alone: no letters can be read from it, but it is to be drawn. */
export const byNumber = () => {
  const data = font('LiberationSans-Bold.ttf');
  // In this font the letters stand in the order of ASCII from glyph 3 on.
  const show = (line) =>
    `<${[...line].map((c) => (c.charCodeAt(0) - 29).toString(16).padStart(4, '0')).join('')}>`;
  return textFile(
    [
      `<< /Type /Font /Subtype /Type0 /BaseFont /AAAAAA+Bold /Encoding /Identity-H /DescendantFonts [${at(1)}] >>`,
      `<< /Type /Font /Subtype /CIDFontType2 /BaseFont /AAAAAA+Bold /CIDSystemInfo << /Registry (Adobe) ` +
        `/Ordering (Identity) /Supplement 0 >> /FontDescriptor ${at(2)} /DW 600 /CIDToGIDMap /Identity >>`,
      descriptor('AAAAAA+Bold', 4, `/FontFile2 ${at(3)}`),
      packed(data, `/Length1 ${data.length}`),
    ],
    page(words, chords, show),
  );
};

/** Note heads and letters as little drawings, as old engraving programs write their music. */
export const drawn = () =>
  textFile(
    [
      `<< /Type /Font /Subtype /Type3 /FontBBox [0 0 1000 1000] /FontMatrix [0.001 0 0 0.001 0 0] ` +
        `/CharProcs << /a ${at(1)} /b ${at(2)} >> /Encoding << /Type /Encoding /Differences [97 /a /b] >> ` +
        `/FirstChar 97 /LastChar 98 /Widths [1000 1000] /Resources << >> >>`,
      stream('1000 0 0 0 1000 1000 d1 100 0 800 500 re f 850 0 60 950 re f'),
      stream('1000 0 d0 0.8 0.1 0.1 rg 100 100 m 500 900 l 900 100 l h f'),
    ],
    page('aabab', 'babba'),
  );

/** Named, measured, but not there. */
export const missing = () =>
  textFile([
    `<< /Type /Font /Subtype /TrueType /BaseFont /NeverHeardOf ${widths(560)} /Encoding /WinAnsiEncoding ` +
      `/FontDescriptor ${at(1)} >>`,
    descriptor('NeverHeardOf', 32),
  ]);

/** A collection that the reader has to know: Japanese titles are rarely embedded. */
export const japanese = () =>
  textFile(
    [
      `<< /Type /Font /Subtype /Type0 /BaseFont /Mincho /Encoding /90ms-RKSJ-H /DescendantFonts [${at(1)}] >>`,
      `<< /Type /Font /Subtype /CIDFontType0 /BaseFont /Mincho /CIDSystemInfo << /Registry (Adobe) ` +
        `/Ordering (Japan1) /Supplement 2 >> /FontDescriptor ${at(2)} /DW 1000 >>`,
      descriptor('Mincho', 4),
    ],
    page('Air', 'G D7'),
  );
