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

/** The stage's ink and paper, as theme.css has them. */
const STAGE = { ink: [0xe9, 0xe3, 0xd3], paper: [0x12, 0x18, 0x1a] } as const;
/** Samples of the curve from black to white; a straight line between each two. */
const STEPS = 32;

export interface LookChoice {
  readonly ink: Ink;
  /** On stage, scans change ink for paper as engraved pages do. */
  readonly swapScans: boolean;
}

/** CSS filters of a page in each theme. */
export interface Look {
  readonly day: string;
  readonly stage: string;
  /** On stage it keeps its own paper, and needs the day's colours on it. */
  readonly keepsPaper: boolean;
}

/** Makes the filters: each page's by its own levels, in an element that stands in the document while they are used. */
export function createLooks(): {
  readonly element: SVGSVGElement;
  look(levels: Levels, choice: LookChoice): Look;
} {
  const element = document.createElementNS(SVG, 'svg');
  element.setAttribute('class', 'looks');
  element.setAttribute('aria-hidden', 'true');
  const filter = (levels: Levels, ink: Ink, stage: boolean): string => {
    const [paper, dark] = [levels.paper, levels.ink].map((level) => Math.round(level * STEPS));
    const id = `look-${stage ? 'stage' : 'day'}-${ink}-${levels.scan ? `${paper}-${dark}` : 'engraved'}`;
    if (!element.querySelector(`#${id}`)) element.append(filterElement(id, levels, ink, stage));
    return `url(#${id})`;
  };
  return {
    element,
    look(levels, { ink, swapScans }) {
      // A scan's grey paper and pale ink are of the scanner's making: they are shown as they were printed.
      const isAsPrinted = levels.paper === 1 && levels.ink === 0;
      const day = ink === 'printed' && isAsPrinted ? 'none' : filter(levels, ink, false);
      const keepsPaper = levels.scan && !swapScans;
      return { day, stage: keepsPaper ? day : filter(levels, ink, true), keepsPaper };
    },
  };
}

const SVG = 'http://www.w3.org/2000/svg';

function svg(name: string, attributes: Record<string, string>, ...children: Element[]): Element {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  made.append(...children);
  return made;
}

/** On stage, a scan loses what little colour it has: swapped, its yellow would be blue. */
function filterElement(id: string, levels: Levels, ink: Ink, stage: boolean): Element {
  const table = (channel: number) => {
    const [from, to] = stage ? [STAGE.ink[channel]! / 255, STAGE.paper[channel]! / 255] : [0, 1];
    return Array.from({ length: STEPS + 1 }, (_, i) =>
      (from + (to - from) * toned(i / STEPS, levels, ink)).toFixed(4),
    ).join(' ');
  };
  const grey = '0.2126 0.7152 0.0722 0 0';
  const transfer = ['R', 'G', 'B'].map((name, channel) =>
    svg(`feFunc${name}`, { type: 'table', tableValues: table(channel) }),
  );
  return svg(
    'filter',
    { id, 'color-interpolation-filters': 'sRGB' },
    ...(stage && levels.scan
      ? [svg('feColorMatrix', { type: 'matrix', values: `${grey} ${grey} ${grey} 0 0 0 1 0` })]
      : []),
    svg('feComponentTransfer', {}, ...transfer),
  );
}
