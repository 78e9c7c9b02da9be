/** Brings a bare machine to where the commands run: the packages, and the programs that are not packages. */
import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync, statSync } from 'node:fs';
import { resolve } from 'node:path';
import { findBrowser, findProgram } from './browsers/find.mjs';

export const root = resolve(import.meta.dirname, '../..');
const npm = process.platform === 'win32' ? 'npm.cmd' : 'npm';

/** Runs a program in the repository with its output shown; true when it ended with 0. */
export function run(program, args, options = {}) {
  const shell = process.platform === 'win32' && program.endsWith('.cmd');
  return spawnSync(program, args, { cwd: root, stdio: 'inherit', shell, ...options }).status === 0;
}

/** Runs the named package's own command with this Node. */
export function bin(name, args, options = {}) {
  return run(process.execPath, [binPath(name), ...args], options);
}

/** The script behind a package's command: no shell, no .cmd, the same on every system. */
export function binPath(name) {
  const packages = { depcruise: 'dependency-cruiser', tsc: 'typescript' };
  const folder = resolve(root, 'node_modules', packages[name] ?? name);
  const { bin: scripts } = JSON.parse(readFileSync(resolve(folder, 'package.json'), 'utf8'));
  return resolve(folder, typeof scripts === 'string' ? scripts : scripts[name]);
}

/** Installs the packages of the lock file unless that very lock file is installed. */
export function ensurePackages() {
  // npm writes this file last, so that its age tells whether an install went through.
  const mark = resolve(root, 'node_modules/.package-lock.json');
  const lock = resolve(root, 'package-lock.json');
  if (existsSync(mark) && statSync(mark).mtimeMs >= statSync(lock).mtimeMs) return true;
  if (existsSync(mark) && samePackages(mark, lock)) return true;
  return run(npm, ['ci', '--no-audit', '--no-fund']);
}

function samePackages(mark, lock) {
  const versions = (file) => JSON.parse(readFileSync(file, 'utf8')).packages;
  const [here, wanted] = [versions(mark), versions(lock)];
  return Object.entries(wanted).every(
    ([path, { version, optional }]) => path === '' || optional || here[path]?.version === version,
  );
}

const debian = {
  chromium: ['chromium'],
  firefox: ['firefox-esr'],
  pulseaudio: ['pulseaudio', 'pulseaudio-utils'],
  pdfinfo: ['poppler-utils'],
  qpdf: ['qpdf'],
  tiffcp: ['libtiff-tools'],
  opj_compress: ['libopenjp2-tools'],
};
const found = (name) => (name === 'chromium' || name === 'firefox' ? findBrowser(name) : findProgram([name]));

/**
 * Makes sure of programs outside the packages. Installs on Debian as root, says in one line what is missing
 * elsewhere.
 * @param {(keyof typeof debian)[]} names
 * @returns {boolean} whether all are there
 */
export function ensurePrograms(names) {
  const missing = () => names.filter((name) => found(name) === null);
  if (missing().length === 0) return true;
  if (existsSync('/etc/debian_version') && process.getuid?.() === 0) {
    const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
    const packages = missing().flatMap((name) => debian[name]);
    const quiet = { stdio: ['ignore', 'ignore', 'inherit'], env };
    console.log(`Installing ${packages.join(', ')} with apt-get.`);
    if (run('apt-get', ['update', '-qq'], quiet))
      run('apt-get', ['install', '-y', '-qq', '--no-install-recommends', ...packages], quiet);
  }
  if (missing().length === 0) return true;
  console.error(
    `Missing: ${missing().join(', ')}. Install ${missing().length > 1 ? 'them' : 'it'}, or name the browsers' paths in CHROMIUM and FIREFOX.`,
  );
  return false;
}
