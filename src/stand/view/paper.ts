import { toned, type Ink, type Levels } from '../../pdf/levels.ts';

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
