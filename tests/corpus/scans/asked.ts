/**
 * What players would be asked about bars that look alike: `npx tsx tests/corpus/scans/asked.ts FOLDER … [--half report]
 * [--dpi 150] [--defects sound,faxed,scanned,photographed] [--each]`, a row for every engraver and defect, as a table in
 * Markdown. "As they look" is the answer that leaves out bars which look otherwise. Twins are counted in pairs: said
 * by the finder, and said once every question has been answered truly. `--each` prints the questions: = twins,
 * ~ alike, ? unknown, x otherwise, and ! where that is no twin.
 */
import { parseArgs } from 'node:util';
import { wholeChart } from '../../../src/core/find/chart/index.ts';
import { likelyTwins, type FoundPlace, type LikelyPair } from '../../../src/core/find/chart/likely.ts';
import { settle, writtenOf } from '../../../src/core/find/chart/settle.ts';
import { chartOptions, filesOf, findIn } from './charts.ts';

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    ...chartOptions,
    each: { type: 'boolean', default: false },
  },
});

interface Counts {
  charts: number;
  questions: number;
  right: number;
  asTheyLook: number;
  wrong: number;
  twins: number;
  said: number;
  answered: number;
}
const table = new Map<string, Counts>();
const LOOKS = { same: '=', near: '~', unknown: '?', other: 'x' } as const;

/** Classes of things from 0 on that are joined one by one. */
function classesOf(count: number) {
  const up = Array.from({ length: count }, (_, i) => i);
  const root = (i: number): number => (up[i] === i ? i : root(up[i]!));
  return { root, join: (a: number, b: number) => (up[root(b)] = root(a)) };
}

function count(file: string, defect: string): void {
  const { truth, found, classes } = findIn(file, defect, Number(values.dpi));
  const written = writtenOf(settle(found));
  const indexOf = (place: FoundPlace) =>
    written.findIndex(([first]) => first!.page === place.page && first!.bar.box === place.box);
  const isTwin = (a: number, b: number) => classes[a] !== null && classes[a] === classes[b];
  const isRight = ({ bar, like }: LikelyPair) => isTwin(indexOf(bar), indexOf(like));
  const said = classesOf(classes.length);
  const countPairs = (test: (a: number, b: number) => boolean) => {
    let pairs = 0;
    for (let a = 0; a < classes.length; a++)
      for (let b = a + 1; b < classes.length; b++) if (isTwin(a, b) && test(a, b)) pairs++;
    return pairs;
  };
  for (const [first, ...rest] of wholeChart(found).twins) for (const bar of rest) said.join(first!, bar);
  const key = `${truth.engraver} | ${defect}`;
  const counts = table.get(key) ?? {
    ...{ charts: 0, questions: 0, right: 0, asTheyLook: 0, wrong: 0 },
    ...{ twins: 0, said: 0, answered: 0 },
  };
  table.set(key, counts);
  counts.charts++;
  counts.twins += countPairs(() => true);
  counts.said += countPairs((a, b) => said.root(a) === said.root(b));
  for (const pairs of likelyTwins(found)) {
    const alike = pairs.filter(({ look }) => look === 'same' || look === 'near');
    const kind = pairs.every(isRight) ? 'right' : alike.every(isRight) ? 'asTheyLook' : 'wrong';
    counts.questions++;
    counts[kind]++;
    for (const pair of pairs) if (isRight(pair)) said.join(indexOf(pair.like), indexOf(pair.bar));
    if (!values.each) continue;
    const looks = pairs.map((pair) => LOOKS[pair.look] + (isRight(pair) ? '' : '!')).join('');
    const [{ bar, like }] = pairs as [LikelyPair];
    console.error(`${file} ${defect}: ${indexOf(bar)} like ${indexOf(like)} ${looks}`);
  }
  counts.answered += countPairs((a, b) => said.root(a) === said.root(b));
}

for (const file of filesOf(positionals, values))
  for (const defect of values.defects.split(',')) count(file, defect);

console.log(
  '| engraver | defect | charts | questions | all the same | as they look | wrong | twins | said | once answered |',
);
console.log(`| ${Array(10).fill('---').join(' | ')} |`);
const share = (part: number, of: number) => (part / Math.max(1, of)).toFixed(2);
for (const [key, counts] of [...table].sort(([a], [b]) => a.localeCompare(b))) {
  const { charts, questions, right, asTheyLook, wrong, twins, said, answered } = counts;
  const all = [
    charts,
    questions,
    right,
    asTheyLook,
    wrong,
    twins,
    share(said, twins),
    share(answered, twins),
  ];
  console.log(`| ${key} | ${all.join(' | ')} |`);
}
