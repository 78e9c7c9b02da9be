/** Where signs of the form stand on engraved pages, for learning. */
import { readFileSync } from 'node:fs';
import { getDocument, VerbosityLevel } from 'pdfjs-dist/legacy/build/pdf.mjs';
import type { PageBox } from '../../../../src/core/chart/types.ts';
import { bracketsOf } from '../../../../src/core/find/engraved/brackets.ts';
import { sortedInk } from '../../../../src/core/find/engraved/fonts.ts';
import { findInInk } from '../../../../src/core/find/engraved/index.ts';
import { stavesIn } from '../../../../src/core/find/engraved/staves.ts';
import { straights } from '../../../../src/core/find/engraved/straight.ts';
import { bottomOf, systemsOf } from '../../../../src/core/find/engraved/systems.ts';
import { strokesOf } from '../../../../src/core/find/engraved/uprights.ts';
import { SIGNS, type Written } from '../../../../src/core/find/pixels/sign-shapes.ts';
import type { FoundSign, PageInk } from '../../../../src/core/find/types.ts';
import { openInk } from '../../../../src/pdf/node.ts';
import type { Box } from '../../truth.ts';
import type { Tune, TuneBar } from '../../tunes/types.ts';

/** A sign and its box in page points; of an ending the box of its bracket. */
export interface SignBox {
  readonly written: Written;
  readonly box: Box;
}

const PREFIX = 'sign:';
/** The address of a link that lies over a sign. */
export const addressOf = (written: Written) => PREFIX + written.replaceAll(' ', '_');

/** The signs of a file's first page that links lie over. Throws pdf.js's errors. */
export async function linkedSigns(data: Uint8Array): Promise<SignBox[]> {
  const task = getDocument({ data: new Uint8Array(data), verbosity: VerbosityLevel.ERRORS });
  const page = await (await task.promise).getPage(1);
  const { height } = page.getViewport({ scale: 1 });
  const found = (await page.getAnnotations()) as { unsafeUrl?: string; rect: number[] }[];
  await task.destroy();
  return found.flatMap(({ unsafeUrl = '', rect: [x0, low, x1, high] }) =>
    unsafeUrl.startsWith(PREFIX)
      ? [
          {
            written: unsafeUrl.slice(PREFIX.length).replaceAll('_', ' ') as Written,
            box: [x0!, height - high!, x1!, height - low!] as Box,
          },
        ]
      : [],
  );
}

/**
 * The signs of a chart's first page, for learning only: what each of them is says the tune, where it stands says
 * our finder of engraved pages. Null where the two do not agree.
 */
export async function chartSigns(path: string, tune: Tune): Promise<SignBox[] | null> {
  const opened = await openInk(new Uint8Array(readFileSync(path)));
  const ink = await opened.ink(0);
  await opened.destroy();
  const { signs, systems } = findInInk(ink, 0);
  const bars = tune.bars.slice(0, systems.flatMap((system) => system.bars).length);
  const found: SignBox[] = [];
  for (const sign of signs) {
    const written = writtenOf(sign);
    if (written === null) continue;
    if (!saysOf(tune.bars[sign.bar]).includes(written)) return null;
    if (sign.kind !== 'ending') found.push({ written, box: inPoints(sign.box, ink) });
  }
  const brackets = bracketsIn(ink);
  const endings = bars.flatMap((bar, i) =>
    bar.ending !== undefined && bar.ending !== bars[i - 1]?.ending ? [`ending ${bar.ending}` as Written] : [],
  );
  if (brackets.map(({ written }) => written).join() !== endings.join()) return null;
  const others = bars.flatMap(saysOf).filter((one) => !one.startsWith('ending'));
  return found.length === others.length ? [...found, ...brackets] : null;
}

/** What a bar of a tune says, apart from its bar lines. */
export function saysOf(bar: TuneBar | undefined): Written[] {
  if (bar === undefined) return [];
  const said: (string | false)[] = [
    bar.ending !== undefined && `ending ${bar.ending}`,
    bar.section !== undefined && `section ${bar.section}`,
    bar.segno === true && 'segno',
    bar.coda === true && 'coda',
    bar.toCoda === true && 'to-coda',
    bar.fine === true && 'fine',
    bar.jump !== undefined && bar.jump.from + (bar.jump.al === undefined ? '' : ` al ${bar.jump.al}`),
  ];
  return said.filter((one) => one !== false) as Written[];
}

/** A sign as the net names it; null for what is none of them. */
export function writtenOf({ kind, text = '', al }: Pick<FoundSign, 'kind' | 'text' | 'al'>): Written | null {
  if (kind === 'ending') return `ending ${text.replaceAll(' ', '')}` as Written;
  if (kind === 'section') return `section ${text}` as Written;
  const written = al === undefined ? kind : `${kind} al ${al}`;
  return (SIGNS as readonly string[]).includes(written) ? (written as Written) : null;
}

const inPoints = ([x0, y0, x1, y1]: PageBox, { width, height }: PageInk): Box => [
  x0 * width,
  y0 * height,
  x1 * width,
  y1 * height,
];

/** The ending brackets of a page that say a number, in reading order. */
function bracketsIn(page: PageInk): SignBox[] {
  const lines = straights(page.ink);
  const systems = systemsOf(stavesIn(lines.across), lines.upright);
  const ink = sortedInk(page.ink, systems.flat());
  return systems.flatMap((staves, i) => {
    const before = systems[i - 1]?.at(-1);
    const { space } = staves[0]!;
    const strokes = strokesOf(staves, lines.upright, []);
    return bracketsOf(staves, lines, ink, before ? bottomOf(before) : 0, strokes)
      .filter(({ numbers }) => numbers.length > 0)
      .map(({ x0, x1, y, numbers }) => ({
        written: `ending ${numbers.join()}` as Written,
        box: [x0, y, x1, y + 2 * space] as Box,
      }));
  });
}
