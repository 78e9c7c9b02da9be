/**
 * Trains the net that reads signs of the form: `npx tsx tests/corpus/scans/signs/train.ts WINDOWS … [--rounds 12]
 * [--rate 0.003] [--from WEIGHTS]`, WINDOWS from windows.ts. Every tenth seed is kept out of the learning, and says how good the net is.
 * Writes src/core/find/pixels/sign-weights.json.
 */
import { readFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { LEFT, WINDOW } from '../../../../src/core/find/pixels/above.ts';
import { SIGN, SIGNS } from '../../../../src/core/find/pixels/sign-shapes.ts';
import type { Strip } from '../../../../src/core/find/pixels/strip.ts';
import { Random } from '../../tunes/random.ts';
import { train, type Example } from '../answers.ts';
import { isKept } from '../halves.ts';

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    rounds: { type: 'string', default: '12' },
    from: { type: 'string', default: '' },
    rate: { type: 'string', default: '0.003' },
    out: { type: 'string', default: 'src/core/find/pixels/sign-weights.json' },
  },
});
/** Half of what is learnt from says something of the form, all that may be said equally often. */
const SAYS = 0.5;

interface Known extends Example {
  readonly seed: number;
}

function examplesIn(file: string): Known[] {
  const bytes = readFileSync(file);
  const size = WINDOW.rows * WINDOW.columns;
  const found: Known[] = [];
  for (let at = 0; at < bytes.length;) {
    const end = bytes.indexOf(10, at);
    const { seed, answer } = JSON.parse(bytes.subarray(at, end).toString()) as {
      seed: number;
      answer: number;
    };
    const data = new Uint8Array(bytes.subarray(end + 1, end + 1 + size));
    found.push({ window: { ...WINDOW, data }, right: [answer], seed });
    at = end + 1 + size;
  }
  return found;
}

/** How far a window is moved, in pixels, and by how much it is drawn larger or smaller before it is learnt from. */
const ASIDE = 1.8;
const SCALE = 0.12;

/** The window a little elsewhere and of another size: places are never found alike twice. */
function moved({ rows, columns, data }: Strip, random: Random): Strip {
  const spread = (most: number) => most * (2 * random.next() - 1);
  const scale = 1 + spread(SCALE);
  const [right, down] = [spread(ASIDE), spread(ASIDE)];
  const out = new Uint8Array(data.length);
  for (let y = 0; y < rows; y++) {
    const v = (y - rows / 2) * scale + rows / 2 + down;
    const j = Math.floor(v);
    if (j < 0 || j + 1 >= rows) continue;
    for (let x = 0; x < columns; x++) {
      const u = (x - LEFT) * scale + LEFT + right;
      const i = Math.floor(u);
      if (i < 0 || i + 1 >= columns) continue;
      const [a, b] = [u - i, v - j];
      const at = j * columns + i;
      const upper = data[at]! + (data[at + 1]! - data[at]!) * a;
      const lower = data[at + columns]! + (data[at + columns + 1]! - data[at + columns]!) * a;
      out[y * columns + x] = upper + (lower - upper) * b;
    }
  }
  return { rows, columns, data: out };
}

const examples = positionals.flatMap(examplesIn);
const kept = examples.filter(({ seed }) => isKept(seed));
const learnt = examples.filter(({ seed }) => !isKept(seed));
const byAnswer = SIGNS.map((_, c) => learnt.filter(({ right }) => right[0] === c)).filter(
  (list) => list.length > 0,
);
const next = (random: Random) => {
  const one = random.pick(
    random.chance(SAYS) ? byAnswer[1 + random.below(byAnswer.length - 1)]! : byAnswer[0]!,
  );
  return { ...one, window: moved(one.window, random) };
};
const { from, out } = values;
const [rounds, rate] = [Number(values.rounds), Number(values.rate)];
train({ question: SIGN, learnt, kept, rounds, rate, from, out, next }, new Random(17));
