/**
 * `npm start`: builds the extension and opens it in a browser on the sample chart. Without a display it plays
 * a session by itself, says what it did a line each and leaves pictures in screenshots/.
 */
import { resolve } from 'node:path';
import { findBrowser } from './browsers/find.mjs';
import { bin, ensurePackages, ensurePrograms, root } from './setup.mjs';

const installed = () => ['chromium', 'firefox'].find((name) => findBrowser(name) !== null);

/** Ends with one line. */
function refuse(line) {
  console.error(line);
  process.exit(1);
}

if (!ensurePackages()) refuse('npm ci failed: the packages could not be installed.');
if (!installed() && !ensurePrograms(['chromium'])) process.exit(1);
if (!bin('vite', ['build', '--logLevel', 'warn'])) refuse('The extension could not be built.');

const { DISPLAY, WAYLAND_DISPLAY } = process.env;
const seen = ['darwin', 'win32'].includes(process.platform) || DISPLAY || WAYLAND_DISPLAY;
const browser = installed();
const extension = resolve(root, 'dist');
// The packages are there only now.
const session = await import(seen ? './session-seen.mjs' : './session-unseen.mjs');
try {
  await session.play(browser, extension);
} catch (error) {
  refuse(error instanceof Error ? error.message : String(error));
}
process.exit(0);
