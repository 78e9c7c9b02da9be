import { readFileSync } from 'node:fs';
import { readSave, type Save } from '../core/log/save.ts';
import { BadInput, resolvePath } from './args.ts';

/** A save from a .json or .zip file. Throws BadInput with the file's name. */
export function readSaveFile(path: string): Save {
  try {
    return readSave(readFileSync(resolvePath(path))).save;
  } catch (error) {
    const why =
      (error as NodeJS.ErrnoException).code === 'ENOENT' ? 'no such file' : (error as Error).message;
    throw new BadInput(`${path}: ${why}`);
  }
}
