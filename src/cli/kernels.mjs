/** `npm run kernels`: compiles the finder's kernels and writes them down as text, which runs wherever the finder does. */
import { writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { ensurePackages, root } from './setup.mjs';

const folder = 'src/core/find/kernels';

/**
 * The finder's kernels as compiled from their source, as the text that is kept in built.json.
 * @returns {Promise<string>}
 * @throws where the source has a mistake
 */
export async function builtKernels() {
  const { main } = await import('assemblyscript/asc');
  const given = [`${folder}/assembly/index.ts`, '--baseDir', root, '--outFile', 'built.wasm'];
  // Nothing is allocated: addresses are arguments. Vectors are of the fixed kind, the same in every engine.
  const how = '-O3 --noAssert --runtime stub --use abort= --initialMemory 1 --enable simd'.split(' ');
  let built;
  const { error, stderr } = await main([...given, ...how], {
    writeFile: (_name, contents) => {
      built = contents;
    },
  });
  if (error) throw new Error(stderr.toString());
  const base64 = Buffer.from(built).toString('base64').replace(/=+$/, '');
  return `${JSON.stringify({ base64 }, null, 2)}\n`;
}

if (import.meta.url === pathToFileURL(process.argv[1]).href) {
  if (!ensurePackages()) process.exit(1);
  writeFileSync(resolve(root, folder, 'built.json'), await builtKernels());
}
