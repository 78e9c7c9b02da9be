import { spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdtempSync, readdirSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';

const root = resolve(import.meta.dirname, '../../..');
const dist = resolve(root, 'dist');
const sources = ['src', 'manifest.json', 'vite.config.ts', 'package-lock.json'];

/** When anything under a path was last changed, ms since 1970. */
function changed(path: string): number {
  const stat = statSync(path);
  if (!stat.isDirectory()) return stat.mtimeMs;
  return Math.max(stat.mtimeMs, ...readdirSync(path).map((name) => changed(join(path, name))));
}

/** Builds with vite, quietly; `args` and `env` on top of the extension's own build. */
export function build(args: readonly string[], env: Record<string, string> = {}): void {
  const vite = resolve(root, 'node_modules/vite/bin/vite.js');
  const ran = spawnSync(process.execPath, [vite, 'build', '--logLevel', 'error', ...args], {
    cwd: root,
    // Standard output belongs to the command.
    stdio: ['ignore', 2, 2],
    env: { ...process.env, ...env },
  });
  if (ran.status !== 0) throw new Error('the extension could not be built');
}

/**
 * The built extension, built anew when a source is younger, in a copy that also holds the bare viewer.
 * The caller removes the copy.
 */
export function extensionWithBare(): string {
  const made = resolve(dist, 'manifest.json');
  const newest = Math.max(...sources.map((path) => changed(resolve(root, path))));
  if (!existsSync(made) || statSync(made).mtimeMs < newest) build([]);
  const copy = mkdtempSync(join(tmpdir(), 'holdfast-extension-'));
  cpSync(dist, copy, { recursive: true });
  build(['--config', resolve(root, 'tests/browser/bare/vite.config.ts')], { BARE_OUT: join(copy, 'bare') });
  return copy;
}
