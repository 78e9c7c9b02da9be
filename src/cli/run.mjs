/**
 * `node src/cli/run.mjs NAME args…`: runs src/cli/NAME.ts on a bare checkout. Standard output belongs to
 * the command; what installing says goes to standard error.
 */
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { resolve } from 'node:path';
import { pathToFileURL } from 'node:url';

const root = resolve(import.meta.dirname, '../..');
const [name, ...args] = process.argv.slice(2);
const file = name === 'bench' ? 'tests/bench/index.ts' : `src/cli/${name}.ts`;

/** Ends with a line on standard error. */
function refuse(line) {
  process.stderr.write(`${line}\n`);
  process.exit(1);
}

if (name === undefined || !/^[a-z-]+$/.test(name) || !existsSync(resolve(root, file)))
  refuse(`no such command: ${name ?? '(none)'}`);

// The lock file inside is npm's own mark of an install that went through to its end.
if (!existsSync(resolve(root, 'node_modules/.package-lock.json'))) {
  const npm = process.platform === 'win32' ? 'npm.cmd' : 'npm';
  const install = spawnSync(npm, ['ci', '--no-audit', '--no-fund'], {
    cwd: root,
    stdio: ['ignore', 2, 2],
    shell: process.platform === 'win32',
  });
  if (install.status !== 0) refuse('npm ci failed: the dependencies could not be installed');
}

const tsx = pathToFileURL(resolve(root, 'node_modules/tsx/dist/loader.mjs')).href;
const ran = spawnSync(process.execPath, ['--import', tsx, resolve(root, file), ...args], {
  cwd: root,
  stdio: 'inherit',
  env: { ...process.env, INIT_CWD: process.env.INIT_CWD ?? process.cwd() },
});
if (ran.error) refuse(ran.error.message);
process.exit(ran.status ?? 1);
