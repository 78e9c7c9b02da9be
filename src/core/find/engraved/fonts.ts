import type { Ink, InkGlyph, InkShape } from '../types.ts';

/** Fonts that are known to hold signs of music; SMuFL fonts also say so by their code points. */
const MUSIC =
  /emmentaler|feta|parmesan|bravura|leland|leipzig|petaluma|gootville|gonville|maestro|opus|sonata|petrucci|finale|engraver|jazz(?!.*text)|inkpen|mscore|music|smufl|sebastian|ekmelos|november|norfolk|reprise|helsinki|swing|broadway|ash|kousaku|anastasia|tamburo/i;

/** SMuFL glyphs stand in the Private Use Area, U+E000 to U+F8FF (SMuFL 1.4, "Private Use Area"). */
const isPrivate = (text: string) => /^[\u{e000}-\u{f8ff}]/u.test(text);

/** A sign of music, not a letter of words: a shape, or a glyph of a music font. */
export const isSign = (ink: Ink): ink is InkShape | InkGlyph =>
  ink.kind === 'shape' || (ink.kind === 'glyph' && !isBlank(ink) && isMusic(ink));

/** A letter, digit or mark of words. */
export const isLetter = (ink: Ink): ink is InkGlyph => ink.kind === 'glyph' && !isBlank(ink) && !isMusic(ink);

function isMusic(glyph: InkGlyph): boolean {
  return MUSIC.test(glyph.font) && !/text|script/i.test(glyph.font) ? true : isPrivate(glyph.unicode);
}

const isBlank = (glyph: InkGlyph) => glyph.unicode.trim() === '' && glyph.rings.length === 0;
