import { spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

const root = resolve(import.meta.dirname, '../..');
/** Rule, file and the import that the rule must catch there. */
const planted = [
  ['core-imports', 'src/core/chart/planted-0.ts', "import '../../store/types.ts';"],
  ['core-is-pure', 'src/core/chart/planted-1.ts', "import 'preact';"],
  ['core-is-pure', 'src/core/chart/planted-2.ts', "import 'node:fs';"],
  ['pdf-imports', 'src/pdf/planted-3.ts', "import type {} from '../host/i18n.ts';"],
  ['host-imports', 'src/host/planted-4.ts', "import '../ui/commands.ts';"],
  ['store-imports', 'src/store/planted-5.ts', "import '../host/i18n.ts';"],
  ['sound-imports', 'src/sound/planted-6.ts', "import '../store/types.ts';"],
  ['ui-imports', 'src/ui/planted-7.ts', "import '../store/types.ts';"],
  ['background-imports', 'src/background/planted-8.ts', "import '../ui/commands.ts';"],
  ['tunes-imports', 'src/tunes/planted-9.ts', "import '../stand/mode.ts';"],
  ['stand-imports', 'src/stand/planted-10.ts', "import '../tunes/words.ts';"],
  ['cli-imports', 'src/cli/planted-11.ts', "import '../store/types.ts';"],
  ['one-door-to-pdfjs', 'src/stand/planted-12.ts', "import 'pdfjs-dist';"],
  ['one-door-to-the-browser', 'src/stand/planted-13.ts', "import 'webextension-polyfill';"],
  ['one-door-to-indexeddb', 'src/stand/planted-14.ts', "import 'idb';"],
] as const;

let copy = '';

/** Runs the arrows' check in the copy. */
function cruise(): { status: number | null; said: string } {
  const script = resolve(root, 'node_modules/dependency-cruiser/bin/dependency-cruise.mjs');
  const args = [script, 'src', '--config', '.dependency-cruiser.cjs', '--output-type', 'err'];
  const { status, stdout, stderr } = spawnSync(process.execPath, args, { cwd: copy, encoding: 'utf8' });
  return { status, said: stdout + stderr };
}

beforeAll(() => {
  copy = mkdtempSync(join(tmpdir(), 'arrows-'));
  for (const name of ['src', '.dependency-cruiser.cjs', 'tsconfig.json', 'package.json'])
    cpSync(resolve(root, name), join(copy, name), { recursive: true });
  symlinkSync(resolve(root, 'node_modules'), join(copy, 'node_modules'), 'junction');
});
afterAll(() => rmSync(copy, { recursive: true }));

describe('the arrows of the house', () => {
  it('hold in this tree, and modules were looked at', () => {
    const { status, said } = cruise();
    expect(said).toMatch(/no dependency violations found \(([1-9]\d+) modules/);
    expect(status).toBe(0);
  });

  it('catch every wrong import', () => {
    for (const [, file, text] of planted) {
      mkdirSync(dirname(join(copy, file)), { recursive: true });
      writeFileSync(join(copy, file), text);
    }
    const { status, said } = cruise();
    for (const [rule, file] of planted) expect(said).toContain(`error ${rule}: ${file}`);
    expect(status).not.toBe(0);
  });
});
