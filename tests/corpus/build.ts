/**
 * Makes the corpus: `node --import tsx tests/corpus/build.ts ENGRAVER FROM TO [FOLDER]` engraves the tunes of
 * these seeds (TO left out) into FOLDER/ENGRAVER, with a truth file beside every PDF. With --near the tunes hold bars
 * that differ in one sign, with --sections sections that differ so; with --even odd seeds are left out.
 */
import { existsSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { engravers } from './engravers/index.ts';
import { tuneOf } from './tunes/index.ts';
import { nearSectionsOf, nearTuneOf } from './tunes/near.ts';
import type { Tune } from './tunes/types.ts';

const makers: Record<string, (seed: number) => Tune> = { '--near': nearTuneOf, '--sections': nearSectionsOf };
const args = process.argv.slice(2).filter((arg) => !arg.startsWith('--'));
const step = process.argv.includes('--even') ? 2 : 1;
const [make = tuneOf] = process.argv.flatMap((arg) => makers[arg] ?? []);
const [name = '', from = '0', to = '18', folder = '/tmp/holdfast-corpus'] = args;
const engrave = engravers[name];
if (engrave === undefined) {
  process.stderr.write(`engravers: ${Object.keys(engravers).join(', ')}\n`);
  process.exit(1);
}
const target = resolve(folder, name);
const seeds = Array.from({ length: Number(to) - Number(from) }, (_, i) => Number(from) + i);
const tunes = seeds
  .filter((seed) => seed % step === 0)
  .map(make)
  .filter((tune) => !existsSync(join(target, `${tune.name}.truth.json`)));
const AT_ONCE = 6;
for (let i = 0; i < tunes.length; i += AT_ONCE)
  for (const truth of await engrave(tunes.slice(i, i + AT_ONCE), target))
    writeFileSync(join(target, `${truth.tune}.truth.json`), JSON.stringify(truth));
process.stdout.write(`${tunes.length} tunes engraved into ${target}\n`);
