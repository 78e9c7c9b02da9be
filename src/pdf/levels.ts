/** How light a page's paper and ink are, and what becomes of grey paper. */

/** Samples a side, taken evenly over the page. */
const SAMPLES = 48;
/** An engraved page is white but for its ink; the paper of a scan is hardly ever exactly white. */
const WHITE_SHARE = 0.6;
/** So many of the samples are darker than paper, and so many as dark as its ink: music covers 5 to 10 % of a page. */
const PAPER_RANK = 0.5;
const INK_RANK = 0.02;
/** Paper and ink are at least so far apart; an empty page has no ink to measure. */
const LEAST_APART = 0.3;

/** How light a page's paper and ink are, 0 black to 1 white. */
export interface Levels {
  /** Its paper is not pure white. */
  readonly scan: boolean;
  readonly paper: number;
  readonly ink: number;
}

/** Paper is at least so light, and so much of the page is about as light as it. */
const DARKEST_PAPER = 0.45;
const ALIKE = 0.15;
const BARE_SHARE = 0.4;

/** What an unknown page is taken for. */
export const ENGRAVED: Levels = { scan: false, paper: 1, ink: 0 };

/** Looks at a drawn page. */
export function levelsOf(page: HTMLCanvasElement): Levels {
  const small = document.createElement('canvas');
  small.width = small.height = SAMPLES;
  const context = small.getContext('2d', { willReadFrequently: true });
  if (!context) return ENGRAVED;
  context.imageSmoothingEnabled = false;
  context.drawImage(page, 0, 0, SAMPLES, SAMPLES);
  const { data } = context.getImageData(0, 0, SAMPLES, SAMPLES);
  const light = Array.from(
    { length: SAMPLES * SAMPLES },
    (_, i) => (0.2126 * data[4 * i]! + 0.7152 * data[4 * i + 1]! + 0.0722 * data[4 * i + 2]!) / 255,
  ).sort((a, b) => a - b);
  const white = light.filter((value) => value > 0.9999).length;
  if (white >= light.length * WHITE_SHARE) return ENGRAVED;
  const paper = light[Math.floor(light.length * PAPER_RANK)]!;
  const bare = light.filter((value) => Math.abs(value - paper) < ALIKE).length;
  // A photograph, a cover, black all around the sheet: nothing says what its paper is.
  if (paper < DARKEST_PAPER || bare < light.length * BARE_SHARE) return { scan: true, paper: 1, ink: 0 };
  const ink = Math.min(light[Math.floor(light.length * INK_RANK)]!, Math.max(0, paper - LEAST_APART));
  return { scan: true, paper, ink };
}

/** How dark faint ink is made. */
export type Ink = 'printed' | 'darker' | 'darkest';
/** So far from full ink to paper, what is printed counts as full ink. */
const DARKENED: Record<Ink, number> = { printed: 0, darker: 0.3, darkest: 0.6 };
/** Paper of a scan is uneven: from so far below its own level on it counts as bare. */
const UNEVEN = 0.06;

/**
 * What a lightness becomes: 0 full ink, 1 bare paper, a straight line between. A scan's own paper and ink are
 * the ends of that line; an engraved page's are white and black.
 */
export function toned(light: number, { scan, paper, ink }: Levels, darkened: Ink): number {
  const white = scan ? paper - UNEVEN * (paper - ink) : 1;
  const black = ink + DARKENED[darkened] * (paper - ink);
  return Math.min(1, Math.max(0, (light - black) / (white - black)));
}

/** Changes a drawn picture of a scan so that its paper is white and its ink full, as they were printed. */
export function tone(canvas: HTMLCanvasElement, levels: Levels): void {
  const context = canvas.getContext('2d');
  if (!context || (levels.paper === 1 && levels.ink === 0)) return;
  const picture = context.getImageData(0, 0, canvas.width, canvas.height);
  const { data } = picture;
  const become = Uint8ClampedArray.from({ length: 256 }, (_, v) => 255 * toned(v / 255, levels, 'printed'));
  for (let i = 0; i < data.length; i++) if (i % 4 < 3) data[i] = become[data[i]!]!;
  context.putImageData(picture, 0, 0);
}
