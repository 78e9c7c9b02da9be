/**
 * Trains the net that reads meters: `npx tsx tests/corpus/scans/meters/train.ts FOLDER … [--times 3] [--rounds 12]`,
 * FOLDERS of lines.ts or of the corpus. Learns on even seeds; every tenth of those only says how good the net is.
 * Writes src/core/find/pixels/meter-weights.json.
 */
import { parseArgs } from 'node:util';
import { zoneOf } from '../../../../src/core/find/pixels/meter.ts';
import { METER, METERS } from '../../../../src/core/find/pixels/meter-shapes.ts';
import { Random } from '../../tunes/random.ts';
import { train, type Example } from '../answers.ts';
import { isIn } from '../halves.ts';
import { sheetsIn, systemsOf } from './pages.ts';

const DEFECTS = ['mixed', 'mixed', 'mixed', 'photographed', 'scanned', 'faxed', 'sound'];
const DPIS = [100, 150, 150, 200, 300];

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    times: { type: 'string', default: '3' },
    rounds: { type: 'string', default: '12' },
    out: { type: 'string', default: 'src/core/find/pixels/meter-weights.json' },
  },
});
const random = new Random(11);
const sheets = positionals.flatMap(sheetsIn).filter(({ seed }) => !isIn['report']!(seed));
const examples = sheets.flatMap((sheet) =>
  Array.from({ length: Number(values.times) }, (_, time) =>
    systemsOf(sheet, random.pick(DEFECTS), random.pick(DPIS), sheet.seed * 100 + time),
  )
    .flat()
    .map(({ straight, said }): Example & { isKept: boolean } => ({
      window: zoneOf(straight),
      right: said.map((one) => METERS.indexOf(one)),
      isKept: isIn['tuning']!(sheet.seed),
    })),
);
const kept = examples.filter(({ isKept }) => isKept);
const learnt = examples.filter(({ isKept }) => !isKept);
train({ question: METER, learnt, kept, rounds: Number(values.rounds), out: values.out }, random);
