/** Starts a browser with the built extension for a test; what is then said to its pages is in page.mjs. */
import { resolve } from 'node:path';
import { launch } from '../../../src/cli/browsers/index.mjs';

export * from '../../../src/cli/browsers/page.mjs';

const root = resolve(import.meta.dirname, '../../..');
export const extension = resolve(root, process.env.HOLDFAST_DIST ?? 'dist');
export const browsers = (process.env.HOLDFAST_BROWSERS ?? 'chromium,firefox').split(',');
export const sample = (file) => resolve(root, 'sample-pdfs', file);

/**
 * Starts a browser with the built extension. Firefox plays into the run's sound server; Chromium runs its clock
 * without one, sooner, unless `pulse` asks for it.
 */
export const start = (name, { pulse = name === 'firefox', env, ...options } = {}) =>
  launch(name, { extension, env: { ...(pulse ? {} : { PULSE_SERVER: undefined }), ...env }, ...options });
