import { remembered } from '../../remembered.ts';
import type { Ink, InkGlyph, InkShape, StaffParts } from '../types.ts';
import { nameByLook } from './look.ts';

/** Fonts that are known to hold signs of music; SMuFL fonts also say so by their code points. */
const MUSIC =
  /emmentaler|feta|parmesan|bravura|leland|leipzig|petaluma|gootville|gonville|maestro|opus|sonata|petrucci|finale|engraver|jazz(?!.*text)|inkpen|mscore|music|smufl|sebastian|ekmelos|november|norfolk|reprise|helsinki|swing|broadway|ash|kousaku|anastasia|tamburo|musix|xsl[uzdh]/i;

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

/** `staves`: all of the page. */
export function sortedInk(all: readonly Ink[], staves: readonly StaffParts[]): SortedInk {
  const [glyphs, shapes, signs, letters]: [InkGlyph[], InkShape[], Outlined[], InkGlyph[]] = [[], [], [], []];
  const nameOf = namesByLook();
  const headed = fontsOfHeads(all, staves, nameOf);
  const isOfMusic = remembered(
    (font: string) => headed.has(font) || (MUSIC.test(font) && !/text|script/i.test(font)),
  );
  for (const one of all) {
    if (one.kind === 'shape') {
      shapes.push(one);
      signs.push(one);
    } else if (one.kind === 'glyph' && !isBlank(one)) {
      glyphs.push(one);
      if (isOfMusic(one.font) || isPrivate(one.unicode) || isDrawnAt(one, staves, nameOf)) signs.push(one);
      else letters.push(one);
    }
  }
  return { all, glyphs, shapes, signs, letters };
}

/** What a letter is by its looks at a staff. */
type NameOf = (glyph: InkGlyph, staff: StaffParts) => string;

/** A page has hundreds of letters and few looks: each is asked about once. */
function namesByLook(): NameOf {
  const known = new Map<string, string>();
  return (glyph, { space }) => {
    const [x0, y0, x1, y1] = glyph.box;
    const key = `${glyph.outline} ${space.toFixed(1)}`;
    const name = known.get(key) ?? nameByLook(glyph.rings, (x1 - x0) / space, (y1 - y0) / space);
    known.set(key, name);
    return name;
  };
}

/** How far from a staff notes with their accidentals stand, in spaces. */
const LEDGERS = 4;

/**
 * Fonts of Type 3 are called nothing (ISO 32000-1, 9.6.5: they need no name). What stands in a staff is music, and
 * near it what looks like a note or an accidental.
 */
function isDrawnAt(glyph: InkGlyph, staves: readonly StaffParts[], nameOf: NameOf): boolean {
  if (glyph.font !== 'Type3') return false;
  const { box } = glyph;
  const [x, y] = [(box[0] + box[2]) / 2, (box[1] + box[3]) / 2];
  const off = ({ lines }: StaffParts) => Math.max(lines[0]! - y, y - lines.at(-1)!);
  const staff = staves.find((one) => x > one.x0 && x < one.x1 && off(one) < LEDGERS * one.space);
  if (staff === undefined) return false;
  if (off(staff) < 0) return true;
  return /^(accidental|notehead)/.test(nameOf(glyph, staff));
}

/** A font of which so many heads stand on the staves is one of music, whatever it is called. */
const HEADS = 4;
/** A head's middle lies this near to a line or the middle of a space, in spaces. */
const ON_ITS_STEP = 0.12;

/** Fonts without a known name that show note heads where heads stand: on lines and in spaces. */
function fontsOfHeads(
  all: readonly Ink[],
  staves: readonly StaffParts[],
  nameOf: NameOf,
): ReadonlySet<string> {
  const heads = new Map<string, number>();
  const isKnown = remembered((font: string) => MUSIC.test(font));
  for (const one of all) {
    if (one.kind !== 'glyph' || isKnown(one.font)) continue;
    const staff = staves.find((each) => isStepOf(one.box, each));
    if (staff === undefined || one.rings.length === 0) continue;
    if (nameOf(one, staff).startsWith('notehead')) heads.set(one.font, (heads.get(one.font) ?? 0) + 1);
  }
  return new Set([...heads].filter(([, count]) => count >= HEADS).map(([font]) => font));
}

/** As high as a space, and set on a line or in a space of the staff. */
function isStepOf(
  [x0, y0, x1, y1]: InkGlyph['box'],
  { x0: from, x1: to, lines, space }: StaffParts,
): boolean {
  const height = y1 - y0;
  if (x0 < from || x1 > to || height < 0.8 * space || height > 1.25 * space) return false;
  const y = (y0 + y1) / 2;
  const isOnStaff = y > lines[0]! - space / 4 && y < lines.at(-1)! + space / 4;
  return isOnStaff && offStep(y, { lines, space }) < ON_ITS_STEP;
}

/** How far a height is from the nearest line or middle of a space, in spaces: heads stand on one. */
export function offStep(y: number, { lines, space }: Pick<StaffParts, 'lines' | 'space'>): number {
  const step = (y - lines[0]!) / (space / 2);
  return Math.abs(step - Math.round(step)) / 2;
}

const isBlank = (glyph: InkGlyph) => glyph.unicode.trim() === '' && glyph.rings.length === 0;
