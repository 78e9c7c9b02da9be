/** `npm run -s merge -- A.json B.zip …`: the merged save on standard output. */
import { mergeSaves } from '../core/log/save.ts';
import { BadInput, print, readArgs, run } from './args.ts';
import { readSaveFile } from './saves.ts';

await run('merge', () => {
  const { positionals } = readArgs({}, true);
  if (positionals.length === 0) throw new BadInput('name the saves to merge');
  print(mergeSaves(positionals.map((path) => readSaveFile(path))));
});
