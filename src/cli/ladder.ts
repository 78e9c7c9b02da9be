/** `npm run -s ladder`: the steps of one rung and what they cost, for a chart given by numbers. */
import { defaultNumbers } from '../core/chart/plan.ts';
import type { Numbers, Plan, RouteBar, Section } from '../core/chart/types.ts';
import { costOf, rungsOf, stepsOf } from '../core/ladder/index.ts';
import { BadInput, numberOf, print, readArgs, run } from './args.ts';

/** Longer than any tune; keeps a slip of the hand from asking for millions of steps. */
const MOST_BARS = 2000;
const MOST_RUNGS = 1000;

const OPTIONS = {
  bars: { type: 'string' },
  section: { type: 'string' },
  twins: { type: 'string' },
  streak: { type: 'string' },
  'join-streak': { type: 'string' },
  from: { type: 'string' },
  to: { type: 'string' },
  step: { type: 'string' },
  beats: { type: 'string' },
  gap: { type: 'string' },
  silent: { type: 'string' },
  pairs: { type: 'boolean' },
  seams: { type: 'boolean' },
  differing: { type: 'boolean' },
} as const;

function main(): void {
  const { values } = readArgs(OPTIONS);
  if (values.bars === undefined) throw new BadInput('--bars is missing: how many bars the route has');
  const bars = numberOf('bars', values.bars, { min: 1, max: MOST_BARS, whole: true });
  const wholeFrom1 = { min: 1, max: 1000, whole: true };
  const whole = (option: 'streak' | 'join-streak' | 'section', otherwise: number) =>
    values[option] === undefined ? otherwise : numberOf(option, values[option], wholeFrom1);
  const streak = whole('streak', defaultNumbers.streak);
  const numbers: Numbers = {
    ...defaultNumbers,
    ...tempi(values),
    streak,
    joinStreak: whole('join-streak', streak),
    joining: values.pairs === true ? 'pairs' : 'one-by-one',
    seams: values.seams === true,
    differing: values.differing === true,
  };
  const plan = planFor({
    numbers,
    bars,
    section: values.section === undefined ? bars : whole('section', bars),
    beats: numberOf('beats', values.beats ?? '4', { above: 0, max: 64 }),
    twins: twinsOf(values.twins, bars),
    silent: placesOf('silent', values.silent, bars),
  });
  const gap = numberOf('gap', values.gap ?? '1', { min: 0, max: 1000 });
  print(answer(plan, gap));
}

function answer(plan: Plan, gap: number) {
  const steps = stepsOf(plan);
  const rungs = rungsOf(plan.numbers);
  const rung = costOf(steps, plan, rungs[0]!, { gap });
  return {
    steps: steps.map(({ from, to, streak }) => ({ from, to, streak })),
    rungs,
    cleanPasses: rung.cleanPasses * rungs.length,
    minutes: Math.round(rung.minutes * 100) / 100,
  };
}

function tempi(values: {
  from?: string;
  to?: string;
  step?: string;
}): Pick<Numbers, 'start' | 'goal' | 'step'> {
  const limits = { above: 0, max: 1000 };
  const start = numberOf('from', values.from ?? String(defaultNumbers.start), limits);
  const goal = numberOf('to', values.to ?? String(defaultNumbers.goal), limits);
  const step = numberOf('step', values.step ?? String(defaultNumbers.step), limits);
  if (start > goal) throw new BadInput(`--from ${start} is above --to ${goal}`);
  if ((goal - start) / step > MOST_RUNGS)
    throw new BadInput(`--step ${step} makes more than ${MOST_RUNGS} rungs`);
  return { start, goal, step };
}

function items(text: string | undefined): string[] {
  return text === undefined ? [] : text.split(',').map((item) => item.trim());
}

function placesOf(option: string, text: string | undefined, bars: number): number[] {
  return items(text).map((item) => numberOf(option, item, { min: 0, max: bars - 1, whole: true }));
}

/** `4:0` says that bar 4 is a twin of bar 0; gives the first bar of each bar's class. */
function twinsOf(text: string | undefined, bars: number): number[] {
  const first = Array.from({ length: bars }, (_, place) => place);
  for (const item of items(text)) {
    const [later, earlier, ...rest] = item.split(':').flatMap((part) => placesOf('twins', part, bars));
    if (later === undefined || earlier === undefined || rest.length > 0)
      throw new BadInput(`--twins wants pairs like 4:0, not "${item}"`);
    if (later <= earlier) throw new BadInput(`--twins ${item}: the later bar comes first, as in 4:0`);
    const classes = [first[later]!, first[earlier]!];
    const least = Math.min(...classes);
    for (const [place, twin] of first.entries()) if (classes.includes(twin)) first[place] = least;
  }
  return first;
}

interface Shape {
  readonly numbers: Numbers;
  readonly bars: number;
  readonly section: number;
  readonly beats: number;
  readonly twins: readonly number[];
  readonly silent: readonly number[];
}

/** A plan as marks would give it, without a page. */
function planFor({ numbers, bars, section, beats, twins, silent }: Shape): Plan {
  const sections: Section[] = [];
  for (let from = 0; from < bars; from += section)
    sections.push({ name: '', from, to: Math.min(bars, from + section) - 1 });
  const route = twins.map((twin, place): RouteBar => ({
    bar: String(place),
    boxes: [],
    number: place + 1,
    twin,
    section: Math.floor(place / section),
    meter: { beats: 4, value: 4 },
    unit: 'quarter',
    beats,
    silent: silent.includes(place),
    tied: false,
    leadIn: 0,
  }));
  return { version: 1, bars: route, sections, pickup: null, numbers };
}

await run('ladder', main);
