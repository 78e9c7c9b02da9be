/** What the tunes page shows of a chart: small, so that thousands are read at once. */
import { formText } from '../chart/name.ts';
import { turnOn, turnsOf } from '../chart/turn.ts';
import type { BeatUnit, Marks, Plan, Span, System, Turn } from '../chart/types.ts';
import type { ChartState, CurrentStep } from './state.ts';

/** Where the first line of music stands: fractions of its page, `left` its first bar line. */
export interface FirstLine {
  readonly page: number;
  readonly top: number;
  readonly bottom: number;
  readonly left: number;
  /** How far its page is turned; absent: not at all. */
  readonly turn?: Turn;
}

/** The step that a chart stands on, its bars by the numbers on the page. */
export interface CardStep extends Pick<CurrentStep, 'bpm' | 'kind'> {
  readonly first: number;
  readonly last: number;
  readonly alone: boolean;
}

export interface Card extends Pick<
  ChartState,
  | 'chart'
  | 'document'
  | 'name'
  | 'words'
  | 'removed'
  | 'archived'
  | 'sets'
  | 'carried'
  | 'joined'
  | 'passes'
  | 'addedAt'
  | 'rungs'
  | 'finished'
> {
  /** The end of the last pass, UTC; null: not played yet. */
  readonly playedAt: string | null;
  /** The marks event that shows; null: not boxed yet. */
  readonly marks: string | null;
  readonly line: FirstLine | null;
  /** Its first and last page of music, from 0. */
  readonly pages: readonly [first: number, last: number] | null;
  /** The form in letters, empty where no section has a name. */
  readonly form: string;
  /** Written bars. */
  readonly bars: number;
  readonly unit: BeatUnit;
  readonly step: CardStep | null;
}

/** Written bars on the pages: pickups aside, a bar broken over two lines once. */
export function barCount(systems: readonly System[]): number {
  return systems.flatMap((system) => system.bars).filter((bar) => !bar.continues && bar.pickup === undefined)
    .length;
}

/** Numbers of a span's first and last written bar; a seam may run on from the last bar into the first. */
export function barNumbers(plan: Plan, span: Span): readonly [number, number] {
  const at = (place: number) => plan.bars[place % plan.bars.length]?.number ?? 0;
  return [at(span.from), at(span.to)];
}

function firstLineOf(marks: Marks | undefined): FirstLine | null {
  const system = marks?.systems[0];
  const bar = system?.bars[0];
  if (!system || !bar) return null;
  const place = { page: system.page, top: system.top, bottom: system.bottom, left: bar.x0 };
  const turn = turnOn(turnsOf(marks), system.page);
  return turn === 0 ? place : { ...place, turn };
}

function pagesOf(systems: readonly System[]): Card['pages'] {
  const [first, last] = [systems[0], systems.at(-1)];
  return first && last ? [first.page, last.page] : null;
}

function stepOf(plan: Plan, step: CurrentStep): CardStep {
  const [first, last] = barNumbers(plan, step);
  return { bpm: step.bpm, kind: step.kind, first, last, alone: step.from === step.to };
}

/** The card of a chart as it stands. */
export function cardOf(state: ChartState): Card {
  const { plan, step, marks } = state;
  const systems = marks?.marks.systems ?? [];
  return {
    chart: state.chart,
    document: state.document,
    name: state.name,
    words: state.words,
    removed: state.removed,
    archived: state.archived,
    sets: state.sets,
    carried: state.carried,
    joined: state.joined,
    passes: state.passes,
    addedAt: state.addedAt,
    rungs: state.rungs,
    finished: state.finished,
    playedAt: state.lastPass?.at ?? null,
    marks: marks?.event ?? null,
    line: firstLineOf(marks?.marks),
    pages: pagesOf(systems),
    form: plan ? formText(plan.plan) : '',
    bars: barCount(systems),
    unit: plan?.plan.bars[0]?.unit ?? 'quarter',
    step: plan && step ? stepOf(plan.plan, step) : null,
  };
}
