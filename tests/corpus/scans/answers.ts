/** Learning to answer one question about a window: see src/core/find/pixels/answers.ts. */
import { writeFileSync } from 'node:fs';
import { chancesFrom, scoresOf, type Question } from '../../../src/core/find/pixels/answers.ts';
import { padOf } from '../../../src/core/find/pixels/net.ts';
import type { Strip } from '../../../src/core/find/pixels/strip.ts';
import type { Random } from '../tunes/random.ts';
import { backFrom, newLearner, step, type Learner } from './learn.ts';
import { packed } from './pack.ts';
import { inputOf, outputsOf } from './plain-net.ts';

const BATCH = 16;
const RATE = 0.003;

export interface Example {
  readonly window: Strip;
  /** Answers that are right. */
  readonly right: readonly number[];
}

export interface Lesson {
  readonly question: Question;
  readonly learnt: readonly Example[];
  readonly kept: readonly Example[];
  readonly rounds: number;
  /** File of the weights. */
  readonly out: string;
  /** File of weights to go on from. */
  readonly from?: string;
  /** Rate of learning at its highest. */
  readonly rate?: number;
  /** Takes the next example to learn from; usually any of them. */
  readonly next?: (random: Random) => Example;
}

const lastOf = ({ layers }: Learner, { shapes }: Question, window: Strip) =>
  outputsOf(inputOf(window, padOf(shapes[0]!)), layers);

/** Adds one example's gradient and gives its error: −log of the chance of what is right. */
function learn(learner: Learner, question: Question, { window, right }: Example): number {
  const all = lastOf(learner, question, window);
  const last = all.at(-1)!;
  const { columns } = last;
  const [from, to] = question.places ?? [0, columns];
  const { scores, at } = scoresOf(last, [from, to]);
  const chances = chancesFrom(scores);
  const good = right.reduce((sum, c) => sum + chances[c]!, 0);
  const slope = new Float32Array(last.data.length);
  for (const [c, chance] of chances.entries()) {
    // Of the right answers each is wanted as far as it is likely already.
    const down = chance - (right.includes(c) ? chance / (good + 1e-12) : 0);
    if (c > 0) slope[c * columns + at[c]!] = down;
    else slope.fill(down / (to - from), from, to);
  }
  backFrom(learner, all, slope);
  return -Math.log(good + 1e-9);
}

function check(learner: Learner, question: Question, kept: readonly Example[]): string {
  let [right, sure, sureRight, silent] = [0, 0, 0, 0];
  for (const { window, right: wanted } of kept) {
    const last = lastOf(learner, question, window).at(-1)!;
    const chances = chancesFrom(scoresOf(last, question.places).scores);
    const best = chances.indexOf(Math.max(...chances));
    const isRight = wanted.includes(best);
    if (isRight) right++;
    if (best !== 0 && chances[best]! >= 0.95) {
      sure++;
      if (isRight) sureRight++;
    } else if (!wanted.includes(0)) silent++;
  }
  return `of ${kept.length} windows ${right} right; ${sureRight} of the ${sure} that it says and is sure of; silent ${silent} times`;
}

/** Trains a net of random weights and writes it down. */
export function train(
  { question, learnt, kept, rounds, out, from, rate: most = RATE, next }: Lesson,
  random: Random,
): void {
  console.log(`${learnt.length} windows to learn from, ${kept.length} kept out`);
  const learner = newLearner(question.shapes, random, from);
  const total = Math.ceil((rounds * learnt.length) / BATCH);
  for (let batch = 0, error = 0; batch < total; batch++) {
    for (let k = 0; k < BATCH; k++)
      error += learn(learner, question, next?.(random) ?? random.pick(learnt)) / BATCH;
    // The rate rises over the first steps and falls along a cosine.
    const rate = most * Math.min(1, (batch + 1) / 50) * 0.5 * (1 + Math.cos((Math.PI * batch) / total));
    step(learner, BATCH, rate);
    if ((batch + 1) % 400 === 0 || batch + 1 === total) {
      console.log(
        `${batch + 1} of ${total}: error ${(error / 400).toFixed(4)}; ${check(learner, question, kept)}`,
      );
      error = 0;
      writeFileSync(out, packed(learner.layers));
    }
  }
}
