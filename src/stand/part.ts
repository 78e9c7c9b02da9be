import { defaultNumbers } from '../core/chart/index.ts';
import { fromProposal } from '../core/chart/edit.ts';
import { takeOut } from '../core/chart/part.ts';
import { linesLying, NOT_TURNED, sameTurns, turnsOf, withTurns } from '../core/chart/turn.ts';
import type { Marks } from '../core/chart/types.ts';
import { tunesOf } from '../core/find/chart/tunes.ts';
import type { ChartKey } from '../core/log/events.ts';
import type { ChartState } from '../core/log/state.ts';
import { t } from '../host/i18n.ts';
import { pageUrl } from '../host/pages.ts';
import type { Store } from '../store/types.ts';
import type { OpenChart } from './chart.ts';
import { BOOK, tuneFrom, type FoundTune } from './find/finding.ts';
import { keepMarks, type Append } from './keep.ts';
import { giveUp, holds, linesOfTune, linesTaken, loseLines, othersOf, type OtherChart } from './others.ts';

/** The page, from 0, that the player has just turned: bars are looked for on it. Null: none. */
export const turnedPage = (params: URLSearchParams): number | null =>
  params.has('turned') ? Number(params.get('turned')) : null;

/**
 * The page that a chart is opened on, from 0: where it is drilled, where the address says (`from`, or `page` as in the
 * address of a PDF, from 1), or where its music begins. Nothing before it is drawn.
 */
export function wantedPage(params: URLSearchParams, state: ChartState | null): number {
  const turned = turnedPage(params);
  if (turned !== null) return turned;
  const step = state?.step && state.plan?.plan.bars[state.step.from]?.boxes[0];
  const said = params.has('from') ? Number(params.get('from')) : Number(params.get('page') ?? NaN) - 1;
  const page = step?.page ?? (said >= 0 ? Math.floor(said) : state?.marks?.marks.systems[0]?.page);
  return page ?? 0;
}

/**
 * The page from which bars are looked for, from 0. A file of many pages whose address asked for one of them is a book
 * that was opened at a tune of it.
 */
export function searchedFrom(params: URLSearchParams, pages: number): number {
  if (params.has('from')) return Number(params.get('from'));
  return pages > BOOK && params.has('page') ? Math.min(Number(params.get('page')), pages) - 1 : 0;
}

/** What was found without the lines that other charts of the same file have; null when none is left. */
function withoutOthers(others: readonly OtherChart[], found: Marks, isNew: boolean): Marks | null {
  const taken = linesTaken(others, found.systems, isNew);
  const lines = found.systems.filter((line) => holds(taken, line));
  const { rest } = takeOut(
    found,
    lines.map(({ id }) => id),
  );
  return rest.systems.length > 0 ? rest : null;
}

/**
 * What belongs to a chart of all that was found on its pages: the tune whose lines it has; of a chart without lines,
 * the first tune that no other chart has. A chart that has lines of several tunes keeps to all of them, and so does one
 * that wants `all`. Null when nothing is left for it.
 */
export async function belonging(
  store: Store,
  chart: OpenChart,
  found: FoundTune,
  all = false,
): Promise<Pick<FoundTune, 'marks' | 'title'> | null> {
  const turns = turnsOf(found.marks);
  const several = tunesOf(found.pages);
  // Where all is one tune, or wanted as one, its bars are not compared again.
  const read =
    several.length < 2 || all ? [found] : await Promise.all(several.map((pages) => tuneFrom(pages, turns)));
  const tunes = read.flatMap((tune) => tune ?? []);
  const now = chart.state.peek().marks?.marks;
  const lines = now ? linesLying(now, turns) : [];
  const own = tunes.filter(({ marks }) => marks.systems.some((line) => holds(lines, line)));
  const wanted = tunes.length < 2 || own.length > 1 ? [found] : own.length === 1 ? own : tunes;
  const others = await othersOf(store, chart, turns);
  for (const { marks, title } of wanted) {
    const left = withoutOthers(others, marks, lines.length === 0);
    if (left) return { marks: left, title };
  }
  return null;
}

/** Keeps a new chart with its marks, null for none, and ready to be drilled where they can be played. Throws NotKept */
async function keepNew(
  store: Store,
  key: ChartKey,
  called: { readonly document: string; readonly name: string },
  marks: Marks | null,
): Promise<void> {
  const sitting = crypto.randomUUID();
  const append: Append = (bodies) => store.append(key, sitting, bodies);
  const opened = { type: 'opened', ...called } as const;
  if (marks) await keepMarks(append, marks, { parent: null, numbers: defaultNumbers, first: [opened] });
  else await append([opened]);
}

/**
 * A new chart of the same file, which holds many: with these marks, or without, and then the stand turns to it.
 * @returns its name. Throws NotKept
 */
export async function newPart(
  store: Store,
  chart: OpenChart,
  marks: Marks | null,
  page: number,
): Promise<string> {
  const { document, name: whole, marks: now } = chart.state.peek();
  // A tune that is still to be found lies as this one does.
  const turns = turnsOf(now?.marks);
  const first = marks ?? (sameTurns(turns, NOT_TURNED) ? null : withTurns(fromProposal([]), turns));
  const key = crypto.randomUUID();
  const name = t('stand_part_name', whole, page + 1);
  if (document === null) return name;
  await keepNew(store, key, { document, name }, first);
  if (!marks) {
    location.href = pageUrl('stand', { chart: key, from: String(page) });
    beginAnew();
  }
  return name;
}

/** Marks that a new chart has found for itself leave the charts that they came from. Throws NotKept */
export async function leaveOthers(store: Store, chart: OpenChart): Promise<void> {
  const marks = chart.state.peek().marks?.marks;
  if (marks) await giveUp(store, await othersOf(store, chart, turnsOf(marks)), marks);
}

/**
 * The stand turns to a tune that was found in the chart's file: to the chart that has its first line already, or
 * to a new one, ready to be drilled. Where this chart, or that of the whole file, holds it among others, its lines
 * go there as they are. Throws NotKept
 */
export async function openTune(
  store: Store,
  chart: OpenChart,
  { marks: found, title }: Pick<FoundTune, 'marks' | 'title'>,
): Promise<void> {
  const { document, name: whole, marks: now } = chart.state.peek();
  const first = found.systems[0];
  if (document === null || first === undefined) return;
  const here = now?.marks.systems ?? [];
  if (here.length > 0 && here.every((line) => holds(found.systems, line))) return;
  const others = await othersOf(store, chart, turnsOf(found));
  const hasMore = ({ state, lines }: OtherChart) =>
    state.chart === document && lines.some((line) => !holds(found.systems, line));
  const there = others.find((other) => holds(other.lines, first) && !hasMore(other));
  const key = there?.state.chart ?? crypto.randomUUID();
  if (!there) {
    const { lines, part: marks } = now ? linesOfTune(now.marks, found) : { lines: [], part: found };
    await keepNew(
      store,
      key,
      { document, name: title ?? t('stand_part_name', whole, first.page + 1) },
      marks,
    );
    await loseLines(chart.append, chart.state.peek(), lines);
    await giveUp(store, others.filter(hasMore), marks);
  }
  location.href = pageUrl('stand', { chart: key });
  beginAnew();
}

/** The stand is opened again, at the address as it is now: one of which only the fragment changed does not by itself. */
export function beginAnew(): void {
  window.document.documentElement.dataset['state'] = 'loading';
  location.reload();
}
