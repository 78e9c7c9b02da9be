import type { Ink, InkGlyph, InkShape } from '../types.ts';

/** Fonts that are known to hold signs of music; SMuFL fonts also say so by their code points. */
const MUSIC =
  /emmentaler|feta|parmesan|bravura|leland|leipzig|petaluma|gootville|gonville|maestro|opus|sonata|petrucci|finale|engraver|jazz(?!.*text)|inkpen|mscore|music|smufl|sebastian|ekmelos|november|norfolk|reprise|helsinki|swing|broadway|ash|kousaku|anastasia|tamburo/i;

/** SMuFL glyphs stand in the Private Use Area, U+E000 to U+F8FF (SMuFL 1.4, "Private Use Area"). */
const isPrivate = (text: string) => /^[\u{e000}-\u{f8ff}]/u.test(text);

type Outlined = InkShape | InkGlyph;

/** The ink of a page, told apart once: each list in the order of drawing. */
export interface SortedInk {
  readonly all: readonly Ink[];
  /** Letters that show something, of words and of music fonts. */
  readonly glyphs: readonly InkGlyph[];
  readonly shapes: readonly InkShape[];
  /** Signs of music, no letters of words: shapes, and glyphs of music fonts. */
  readonly signs: readonly Outlined[];
  /** Letters, digits and marks of words. */
  readonly letters: readonly InkGlyph[];
}

export function sortedInk(all: readonly Ink[]): SortedInk {
  const [glyphs, shapes, signs, letters]: [InkGlyph[], InkShape[], Outlined[], InkGlyph[]] = [[], [], [], []];
  const fonts = new Map<string, boolean>();
  const isOfMusic = (font: string) => {
    const known = fonts.get(font) ?? (MUSIC.test(font) && !/text|script/i.test(font));
    fonts.set(font, known);
    return known;
  };
  for (const one of all) {
    if (one.kind === 'shape') {
      shapes.push(one);
      signs.push(one);
    } else if (one.kind === 'glyph' && !isBlank(one)) {
      glyphs.push(one);
      if (isOfMusic(one.font) || isPrivate(one.unicode)) signs.push(one);
      else letters.push(one);
    }
  }
  return { all, glyphs, shapes, signs, letters };
}

const isBlank = (glyph: InkGlyph) => glyph.rings.length === 0 && glyph.unicode.trim() === '';
