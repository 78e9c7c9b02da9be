import type { Refused } from '../../core/chart/edit-shape.ts';
import type { SignProblem } from '../../core/chart/repeats.ts';
import { rootOf } from '../../core/chart/edit-twins.ts';
import { classesOf } from '../../core/chart/twins.ts';
import type { Problem } from '../../core/chart/problems.ts';
import { isInDoubt } from '../../core/chart/found.ts';
import type { Bar, BarId, Jump, Marks, Plan, SectionWhen } from '../../core/chart/types.ts';
import { writtenBars } from '../../core/chart/written.ts';
import { plural, t, type MessageKey } from '../../host/i18n.ts';

const REFUSALS = {
  overlap: 'marks_no_overlap',
  'too-small': 'marks_no_too_small',
  'not-there': 'marks_no_there',
  'last-line': 'marks_no_last_line',
  'different-lengths': 'marks_no_lengths',
  itself: 'marks_no_itself',
  'too-few-bars': 'marks_no_few_bars',
  'own-bars': 'marks_no_own_bars',
} as const satisfies Record<Refused['reason'], MessageKey>;

/** Why an edit was not made, as the player reads it. */
export const refusalText = ({ reason, counts }: Refused): string => t(REFUSALS[reason], ...counts);

/** What is known of each box: the number of its bar, and of the bar it is as. */
export interface BarWords {
  /** Number as printed under the box; a pickup has none. */
  readonly number: number;
  readonly as: number | null;
  readonly beats: number;
}

/** Numbers of all boxes, by id. */
export function wordsOf(marks: Marks): ReadonlyMap<BarId, BarWords> {
  const written = writtenBars(marks);
  const numbers = new Map(written.flatMap((bar) => bar.ids.map((id) => [id, bar.number] as const)));
  return new Map(
    written.flatMap((bar) =>
      bar.ids.map((id) => {
        const root = bar.as === null ? null : (numbers.get(rootOf(marks, bar.id)) ?? null);
        return [id, { number: bar.number, as: root, beats: bar.beats }] as const;
      }),
    ),
  );
}

/** The jumps as they are printed. */
export const JUMPS = {
  dc: 'marks_dc',
  'dc-al-fine': 'marks_dc_al_fine',
  'dc-al-coda': 'marks_dc_al_coda',
  ds: 'marks_ds',
  'ds-al-fine': 'marks_ds_al_fine',
  'ds-al-coda': 'marks_ds_al_coda',
} as const satisfies Record<Jump, MessageKey>;

/** In which choruses a section sounds that is not in every one. */
export const WHENS = {
  'first-chorus': 'marks_when_first',
  'last-chorus': 'marks_when_last',
  never: 'marks_when_never',
} as const satisfies Record<SectionWhen, MessageKey>;

/** A bar's name for screen readers: its number and everything that is said of it. */
export function barName(bar: Bar, words: BarWords | undefined): string {
  const said: (string | false)[] = [
    bar.pickup === undefined ? t('marks_bar', words?.number ?? 0) : t('marks_bar_pickup'),
    !!bar.continues && t('marks_says_continues'),
    bar.section !== undefined && t('marks_says_section', bar.section),
    bar.when !== undefined && t(WHENS[bar.when]),
    words?.as != null && t('marks_says_as', words.as),
    !!bar.meter && t('marks_says_meter', bar.meter.beats, bar.meter.value),
    bar.leadIn !== undefined && plural('marks_says_lead_in', bar.leadIn),
    !!bar.silent && t('marks_says_silent'),
    !!bar.tied && t('marks_says_tied'),
    !!bar.repeatStart && t('marks_says_repeat_start'),
    bar.repeatEnd !== undefined && t('marks_says_repeat_end', bar.repeatEnd),
    !!bar.ending && t('marks_says_ending', bar.ending.join(', ')),
    !!bar.segno && t('marks_says_segno'),
    !!bar.coda && t('marks_says_coda'),
    !!bar.toCoda && t('marks_says_to_coda'),
    !!bar.fine && t('marks_says_fine'),
    bar.jump !== undefined && t(JUMPS[bar.jump]),
    bar.restBars !== undefined && t('marks_says_rest', bar.restBars),
    isInDoubt(bar) && t('marks_says_doubt'),
  ];
  return said.filter(Boolean).join(', ');
}

/** "24 bars on 6 lines, 19 to learn". */
export function sizeText(marks: Marks): string {
  const full = writtenBars(marks).filter((bar) => bar.pickup === 0);
  const classes = classesOf(full);
  const learn = new Set(full.map((bar) => classes.get(bar.id))).size;
  const lines = plural('marks_lines', marks.systems.length);
  return plural('marks_size', full.length, lines, learn);
}

/** The numbers that a bar counts from its own on: one, or those of a multi-bar rest. */
export const numbersAt = (bar: Bar, number: number): number[] =>
  Array.from({ length: bar.restBars ?? 1 }, (_, i) => number + i);

/** Numbers as players say them: "14–16, 20". */
export function ranges(numbers: readonly number[]): string {
  const runs: [number, number][] = [];
  for (const number of numbers) {
    const last = runs.at(-1);
    if (last?.[1] === number - 1) last[1] = number;
    else runs.push([number, number]);
  }
  return runs.map(([from, to]) => (from === to ? `${from}` : `${from}–${to}`)).join(', ');
}

/** A section with its bars: "A, bars 1–8"; by its bars alone when it has no name. */
export function sectionText(name: string, numbers: readonly number[]): string {
  return name ? t('marks_section_bars', name, ranges(numbers)) : t('marks_bars', ranges(numbers));
}

/** For each section that comes back under the same name: whether it is as the first, and but for which bars. */
export function formNotes(plan: Plan): readonly string[] {
  return plan.sections.flatMap((section, i) => {
    const first = plan.sections.slice(0, i).find((each) => each.name === section.name && each.name !== '');
    const own = plan.bars.slice(section.from, section.to + 1);
    // A section that is played again from the same bars needs no word.
    const isAgain = plan.sections.slice(0, i).some((each) => plan.bars[each.from]!.bar === own[0]!.bar);
    if (!first || isAgain) return [];
    const other = own
      .filter((bar, k) => bar.twin !== plan.bars[first.from + k]?.twin)
      .map((bar) => bar.number);
    const numbers = ranges(own.map((bar) => bar.number));
    if (other.length === own.length) return [];
    if (other.length === 0) return [t('marks_form_same', section.name, numbers)];
    return [t('marks_form_but', section.name, numbers, ranges(other))];
  });
}

const PROBLEMS = {
  'page-missing': 'marks_bad_page',
  'outside-page': 'marks_bad_outside',
  'too-small': 'marks_bad_small',
  'no-bars': 'marks_bad_no_bars',
  'bars-overlap': 'marks_bad_bars_overlap',
  'systems-overlap': 'marks_bad_systems_overlap',
  'same-id': 'marks_bad_same_id',
  'broken-bar-alone': 'marks_bad_broken',
  'twin-missing': 'marks_bad_twin',
  'repeat-never-ends': 'marks_bad_repeat',
  'repeat-nested': 'marks_bad_nested',
  'ending-missing': 'marks_bad_ending',
  'ending-twice': 'marks_bad_ending_twice',
  'ending-alone': 'marks_bad_ending_alone',
  'segno-missing': 'marks_bad_segno',
  'coda-missing': 'marks_bad_coda',
  'to-coda-missing': 'marks_bad_to_coda',
  'jump-missing': 'marks_bad_jump',
  'fine-missing': 'marks_bad_fine',
  'never-played': 'marks_bad_never',
  'order-gone': 'marks_bad_order',
  'too-long': 'marks_bad_too_long',
} as const satisfies Record<Problem['kind'], MessageKey>;

/** What does not fit, where, and what to do. */
export function problemText(marks: Marks, problem: Problem): string {
  const system = marks.systems.findIndex(
    ({ id, bars }) => id === problem.system || bars.some((bar) => bar.id === problem.bar),
  );
  const what = t(PROBLEMS[problem.kind]);
  if (problem.bar !== undefined)
    return t('marks_bad', t('marks_bar', wordsOf(marks).get(problem.bar)?.number ?? 0), what);
  // An order by hand may name bars that are on no line.
  return system < 0 ? what : t('marks_bad', t('marks_line', system + 1), what);
}

/** Signs that cannot be played as they stand, where, and what to do. */
export const contradictionText = (marks: Marks, { kind, bar }: SignProblem): string =>
  problemText(marks, { kind, ...(bar === null ? {} : { bar }) });
