/** Names of glyphs by their code points, from SMuFL 1.4 (its glyphnames.json), of those that bars are read by. */
const NAMES: Readonly<Record<string, string>> = {
  E045: 'dalSegno',
  E046: 'daCapo',
  E047: 'segno',
  E048: 'coda',
  E049: 'codaSquare',
  E04A: 'segnoSerpent1',
  E050: 'gClef',
  E052: 'gClef8vb',
  E053: 'gClef8va',
  E05C: 'cClef',
  E062: 'fClef',
  E064: 'fClef8vb',
  E069: 'unpitchedPercussionClef1',
  E08A: 'timeSigCommon',
  E08B: 'timeSigCutCommon',
  E0A2: 'noteheadWhole',
  E0A3: 'noteheadHalf',
  E0A4: 'noteheadBlack',
  E100: 'noteheadSlashVerticalEnds',
  E101: 'noteheadSlashHorizontalEnds',
  E102: 'noteheadSlashWhiteWhole',
  E103: 'noteheadSlashWhiteHalf',
  E240: 'flag8thUp',
  E241: 'flag8thDown',
  E242: 'flag16thUp',
  E243: 'flag16thDown',
  E260: 'accidentalFlat',
  E261: 'accidentalNatural',
  E262: 'accidentalSharp',
  E4E3: 'restWhole',
  E4E4: 'restHalf',
  E4E5: 'restQuarter',
  E4E6: 'rest8th',
  E4E7: 'rest16th',
  ...Object.fromEntries(Array.from({ length: 10 }, (_, i) => [`E08${i}`, `timeSig${i}`])),
};

/** A glyph's name by its text, one code point of the Private Use Area; empty when it is none of these. */
export function smuflName(text: string): string {
  const code = text.codePointAt(0)?.toString(16).toUpperCase() ?? '';
  return NAMES[code] ?? '';
}
