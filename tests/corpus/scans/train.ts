/**
 * Trains the net that reads bar lines: `npx tsx tests/corpus/scans/train.ts STRIPS … [--rounds 8] [--seed 1] [--rate 0.003]
 * [--from WEIGHTS]`.
 * STRIPS come from strips.ts. Every tenth chart of the strips is kept out of the learning, and says after every
 * round how good the net is. Writes src/core/find/pixels/weights.json.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import type { BarLineKind } from '../../../src/core/find/types.ts';
import { padOf } from '../../../src/core/find/pixels/net.ts';
import { EVERY, FIRST, SAID, SHAPES } from '../../../src/core/find/pixels/shapes.ts';
import type { Strip } from '../../../src/core/find/pixels/strip.ts';
import { Random } from '../tunes/random.ts';
import { backward, newLearner, step, type Learner } from './learn.ts';
import { isKept } from './halves.ts';
import { packed } from './pack.ts';
import { inputOf, outputsOf, tensor, type Tensor } from './plain-net.ts';

interface Example extends Strip {
  readonly seed: number;
  readonly labels: Uint8Array;
}

/** Columns of the straightened picture around a bar line that are the bar line, and that may be either. */
const ON = 5;
const NEAR = 9;
const EITHER = 255;
/** Strips with a bar line of these kinds come so often, as they are rare. */
const TIMES: readonly (readonly [BarLineKind, number])[] = [
  ['repeat-both', 8],
  ['repeat-start', 2],
  ['repeat-end', 2],
  ['final', 2],
  ['double', 2],
];
const timesOf = ({ labels }: Example) =>
  TIMES.find(([kind]) => labels.includes(SAID.indexOf(kind)))?.[1] ?? 1;
const BATCH = 16;

function examplesIn(file: string): Example[] {
  const bytes = readFileSync(file);
  const examples: Example[] = [];
  for (let at = 0; at < bytes.length;) {
    const end = bytes.indexOf(10, at);
    const head = JSON.parse(bytes.subarray(at, end).toString()) as {
      rows: number;
      columns: number;
      seed: number;
      lines: { u: number; kind: (typeof SAID)[number] }[];
    };
    const size = head.rows * head.columns;
    const labels = new Uint8Array(Math.ceil((head.columns * 2) / EVERY));
    for (let x = 0; x < labels.length; x++)
      for (const { u, kind } of head.lines) {
        const away = Math.abs(u - (x * EVERY + FIRST));
        if (away <= ON) labels[x] = SAID.indexOf(kind);
        else if (away <= NEAR && labels[x] === 0) labels[x] = EITHER;
      }
    const data = new Uint8Array(bytes.subarray(end + 1, end + 1 + size));
    examples.push({ rows: head.rows, columns: head.columns, seed: head.seed, data, labels });
    at = end + 1 + size;
  }
  return examples;
}

/** Columns of a piece that is learnt from at once. */
const PIECE = 192;

/** A piece of a strip as input, with its labels: mostly around a bar line. */
function pieceOf(one: Example, random: Random): { input: Tensor; labels: Uint8Array } {
  const pad = padOf(SHAPES[0]!);
  const whole = inputOf(one, pad);
  const around = [...one.labels.keys()].filter((x) => one.labels[x]! > 0);
  const middle =
    around.length > 0 && random.chance(0.6) ? random.pick(around) : random.below(one.labels.length);
  const offset = random.below(PIECE / 4) - PIECE / 8;
  const half = Math.max(0, Math.min(one.labels.length - PIECE / 2, middle + offset - PIECE / 4));
  const columns = Math.min(PIECE, one.columns - 2 * half);
  const input = tensor(1, one.rows, columns, pad);
  for (let y = 0; y < one.rows; y++) {
    const from = y * (one.columns + 2 * pad) + pad + 2 * half;
    input.data.set(whole.data.subarray(from, from + columns), y * (columns + 2 * pad) + pad);
  }
  return { input, labels: one.labels.subarray(half, half + Math.ceil(columns / 2)) };
}

/** Bar lines missed, seen where none is, and of another kind, by the likeliest answer at each place. */
function check(learner: Learner, examples: readonly Example[]): string {
  let [lines, missed, wrong, extra] = [0, 0, 0, 0];
  for (const example of examples) {
    const { data, columns } = outputsOf(inputOf(example, padOf(SHAPES[0]!)), learner.layers).at(-1)!;
    const said = Array.from({ length: columns }, (_, x) => {
      let best = 0;
      for (let c = 1; c < SAID.length; c++) if (data[c * columns + x]! > data[best * columns + x]!) best = c;
      return best;
    });
    const { labels } = example;
    for (let x = 0; x < columns; x++) {
      if (labels[x] === 0 && said[x] !== 0 && (x === 0 || said[x - 1] === 0)) extra++;
      if (labels[x] === 0 || labels[x] === EITHER || labels[x - 1] === labels[x]) continue;
      let to = x;
      while (labels[to] === labels[x]) to++;
      const here = said.slice(x, to).filter((one) => one !== 0);
      lines++;
      if (here.length === 0) missed++;
      else if (!here.includes(labels[x]!)) wrong++;
    }
  }
  return `of ${lines} bar lines ${missed} missed, ${wrong} of another kind, ${extra} too many`;
}

function main(): void {
  const { values, positionals } = parseArgs({
    allowPositionals: true,
    options: {
      rounds: { type: 'string', default: '8' },
      seed: { type: 'string', default: '1' },
      from: { type: 'string', default: '' },
      rate: { type: 'string', default: '0.003' },
      out: { type: 'string', default: 'src/core/find/pixels/weights.json' },
    },
  });
  const random = new Random(Number(values.seed));
  const all = positionals.flatMap(examplesIn);
  const [kept, learnt] = [true, false].map((keep) => all.filter(({ seed }) => isKept(seed) === keep));
  console.log(`${learnt!.length} strips to learn from, ${kept!.length} kept out`);
  const pool = learnt!.flatMap((one) => Array.from({ length: timesOf(one) }, () => one));
  const learner = newLearner(SHAPES, random, values.from);
  const total = Math.ceil((Number(values.rounds) * learnt!.length) / BATCH);
  const started = performance.now();
  for (let batch = 0, error = 0; batch < total; batch++) {
    for (let k = 0; k < BATCH; k++) {
      const { input, labels } = pieceOf(random.pick(pool), random);
      error += backward(learner, input, labels, EITHER) / BATCH;
    }
    // The rate rises over the first steps and falls along a cosine.
    const rate =
      Number(values.rate) * Math.min(1, (batch + 1) / 50) * 0.5 * (1 + Math.cos((Math.PI * batch) / total));
    step(learner, BATCH, rate);
    if ((batch + 1) % 100 === 0) {
      const minutes = (performance.now() - started) / 60000;
      console.log(`${batch + 1} of ${total}, ${minutes.toFixed(1)} min: error ${(error / 100).toFixed(4)}`);
      error = 0;
    }
    if ((batch + 1) % 400 === 0 || batch + 1 === total) {
      console.log(check(learner, kept!));
      writeFileSync(values.out, packed(learner.layers));
    }
  }
}

main();
