import { withVersion, type Bar, type Jump, type Marks, type Meter, type System } from '../../chart/index.ts';
import { leaning } from '../../chart/reach.ts';
import type { FoundPage, FoundSign } from '../types.ts';
import type { Placed } from './settle.ts';

const COMMON: Meter = { beats: 4, value: 4 };

/** Half of a bar that lies before a jump's word belongs to it: see `bar` of a sign. */
const JUMPS: Record<string, Jump> = {
  dc: 'dc',
  'dc fine': 'dc-al-fine',
  'dc coda': 'dc-al-coda',
  ds: 'ds',
  'ds fine': 'ds-al-fine',
  'ds coda': 'ds-al-coda',
};

/** What was found, as marks: every bar says how sure it is, twins are bars marked as others. */
export function marksFrom(
  pages: readonly FoundPage[],
  placed: readonly Placed[],
  twins: readonly (readonly number[])[],
): Marks {
  const idOf = (written: number) => `f${written + 1}`;
  const like = new Map(twins.flatMap(([first, ...rest]) => rest.map((bar) => [bar, idOf(first!)] as const)));
  const signs = pages.flatMap((page) => page.signs);
  const systems: System[] = [];
  let written = -1;
  let part = 0;
  let last = '';
  let meter: Meter | null = null;
  for (const [i, one] of placed.entries()) {
    const continues = one.bar.continues === true && written >= 0;
    if (continues) part++;
    else {
      written++;
      part = 0;
    }
    const key = `${one.page} ${one.system}`;
    if (key !== last) {
      const found = pages.find(({ page }) => page === one.page)!.systems[one.system]!;
      systems.push({
        id: `fs${systems.length + 1}`,
        page: one.page,
        top: found.box[1],
        bottom: found.box[3],
        ...leaning(found),
        bars: [],
      });
      last = key;
    }
    const changes: Meter | null = one.bar.meter ?? null;
    const said = written === 0 || changes === null || isSameMeter(changes, meter) ? {} : { meter: changes };
    meter = changes ?? meter;
    const bar: Bar = {
      id: continues ? `${idOf(written)}.${part}` : idOf(written),
      x0: one.bar.box[0],
      x1: one.bar.box[2],
      found: one.bar.sure,
      ...said,
      ...bracketAndRepeats(one, placed[i - 1], placed[i + 1]),
      ...(continues ? { continues: true } : {}),
      ...(one.bar.pickup === true ? { pickup: one.bar.pickupBeats ?? 1 } : {}),
      ...(one.bar.silent === true ? { silent: true } : {}),
      ...(one.bar.tied === true ? { tied: true } : {}),
      ...(one.bar.restBars === undefined ? {} : { restBars: one.bar.restBars }),
      ...(like.has(written) && !continues ? { as: like.get(written)! } : {}),
      ...signsOf(signs.filter(({ page, bar: index }) => page === one.page && index === one.index)),
    };
    const system = systems.at(-1)!;
    systems[systems.length - 1] = { ...system, bars: [...system.bars, bar] };
  }
  const first = placed.find(({ bar }) => bar.meter !== undefined)?.bar.meter ?? COMMON;
  return withVersion({ version: 1, systems, meter: first, unit: null });
}

const isSameMeter = (a: Meter, b: Meter | null) => a.beats === b?.beats && a.value === b.value;

/** A sign on a bar line speaks for both bars at it, also over a line's end. */
function bracketAndRepeats(one: Placed, before: Placed | undefined, after: Placed | undefined): Partial<Bar> {
  const { left, right, ending } = one.bar;
  const starts =
    left === 'repeat-start' ||
    left === 'repeat-both' ||
    (before?.bar.right === 'repeat-start' && left === 'none');
  const ends =
    right === 'repeat-end' ||
    right === 'repeat-both' ||
    (after?.bar.left === 'repeat-end' && right === 'none');
  return {
    ...(starts ? { repeatStart: true } : {}),
    ...(ends ? { repeatEnd: 2 } : {}),
    ...(ending === undefined ? {} : { ending }),
  };
}

function signsOf(signs: readonly FoundSign[]): Partial<Bar> {
  const has = (kind: FoundSign['kind']) => signs.some((sign) => sign.kind === kind);
  const jump = signs.find(({ kind }) => kind === 'dc' || kind === 'ds');
  const section = signs.find(({ kind }) => kind === 'section')?.text;
  return {
    ...(has('segno') ? { segno: true } : {}),
    ...(has('coda') ? { coda: true } : {}),
    ...(has('to-coda') ? { toCoda: true } : {}),
    ...(has('fine') ? { fine: true } : {}),
    ...(jump ? { jump: JUMPS[`${jump.kind} ${jump.al ?? ''}`.trim()]! } : {}),
    ...(section === undefined ? {} : { section }),
  };
}
