/**
 * Trains the net that reads meters: `npx tsx tests/corpus/scans/meters/train.ts FOLDER … [--times 3] [--rounds 12]`,
 * FOLDERS of lines.ts or of the corpus. Learns on even seeds; every tenth of those only says how good the net is.
 * Writes src/core/find/pixels/meter-weights.json.
 */
import { writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { chancesFrom, scoresOf, zoneOf } from '../../../../src/core/find/pixels/meter.ts';
import { METERS, METER_SHAPES } from '../../../../src/core/find/pixels/meter-shapes.ts';
import { outputsOf, padOf, type Tensor } from '../../../../src/core/find/pixels/net.ts';
import { inputOf } from '../../../../src/core/find/pixels/strip.ts';
import { Random } from '../../tunes/random.ts';
import { isIn } from '../halves.ts';
import { backFrom, newLearner, step, type Learner } from '../learn.ts';
import { packed } from '../pack.ts';
import { sheetsIn, systemsOf } from './pages.ts';

const DEFECTS = ['mixed', 'mixed', 'mixed', 'photographed', 'scanned', 'faxed', 'sound'];
const DPIS = [100, 150, 150, 200, 300];
const BATCH = 16;
const RATE = 0.003;

interface Example {
  readonly input: Tensor;
  /** Answers that are right. */
  readonly right: readonly number[];
  readonly isKept: boolean;
}

/** Adds one example's gradient and gives its error: −log of the chance of what is right. */
function learn(learner: Learner, { input, right }: Example): number {
  const all = outputsOf(input, learner.layers);
  const last = all.at(-1)!;
  const { scores, at } = scoresOf(last);
  const chances = chancesFrom(scores);
  const good = right.reduce((sum, c) => sum + chances[c]!, 0);
  const slope = new Float32Array(last.data.length);
  for (let c = 0; c < METERS.length; c++) {
    // Of the right answers each is wanted as far as it is likely already.
    const wanted = right.includes(c) ? chances[c]! / good : 0;
    const down = chances[c]! - wanted;
    if (c > 0) slope[c * last.columns + at[c]!] = down;
    else slope.fill(down / last.columns, 0, last.columns);
  }
  backFrom(learner, all, slope);
  return -Math.log(good + 1e-9);
}

function check(learner: Learner, kept: readonly Example[]): string {
  let right = 0;
  let sure = 0;
  let sureRight = 0;
  for (const one of kept) {
    const chances = chancesFrom(scoresOf(outputsOf(one.input, learner.layers).at(-1)!).scores);
    const best = chances.indexOf(Math.max(...chances));
    const isRight = one.right.includes(best);
    if (isRight) right++;
    if (chances[best]! >= 0.9) {
      sure++;
      if (isRight) sureRight++;
    }
  }
  return `of ${kept.length} lines ${right} right; ${sureRight} of the ${sure} that it is sure of`;
}

function main(): void {
  const { values, positionals } = parseArgs({
    allowPositionals: true,
    options: {
      times: { type: 'string', default: '3' },
      rounds: { type: 'string', default: '12' },
      out: { type: 'string', default: 'src/core/find/pixels/meter-weights.json' },
    },
  });
  const random = new Random(11);
  const pad = padOf(METER_SHAPES[0]!);
  const examples = positionals.flatMap(sheetsIn).flatMap((sheet): Example[] => {
    if (isIn['report']!(sheet.seed)) return [];
    return Array.from({ length: Number(values.times) }, (_, time) =>
      systemsOf(sheet, random.pick(DEFECTS), random.pick(DPIS), sheet.seed * 100 + time),
    )
      .flat()
      .map(({ straight, said }) => ({
        input: inputOf(zoneOf(straight), pad),
        right: said.map((one) => METERS.indexOf(one)),
        isKept: isIn['tuning']!(sheet.seed),
      }));
  });
  const kept = examples.filter(({ isKept }) => isKept);
  const learnt = examples.filter(({ isKept }) => !isKept);
  console.log(`${learnt.length} lines to learn from, ${kept.length} kept out`);
  const learner = newLearner(METER_SHAPES, random);
  const total = Math.ceil((Number(values.rounds) * learnt.length) / BATCH);
  for (let batch = 0, error = 0; batch < total; batch++) {
    for (let k = 0; k < BATCH; k++) error += learn(learner, random.pick(learnt)) / BATCH;
    const rate = RATE * Math.min(1, (batch + 1) / 50) * 0.5 * (1 + Math.cos((Math.PI * batch) / total));
    step(learner, BATCH, rate);
    if ((batch + 1) % 200 === 0 || batch + 1 === total) {
      console.log(`${batch + 1} of ${total}: error ${(error / 200).toFixed(4)}; ${check(learner, kept)}`);
      error = 0;
      writeFileSync(values.out, packed(learner.layers));
    }
  }
}

main();
