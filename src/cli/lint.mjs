/** Format, lint, types and arrows: all of them, even when one fails. */
import { pathToFileURL } from 'node:url';
import { bin, ensurePackages } from './setup.mjs';

/** Every check, by name: true when the tree passes it. */
export const checks = {
  format: () => bin('prettier', ['--check', '--log-level', 'warn', '.']),
  lint: () => bin('eslint', ['.', '--max-warnings', '0']),
  types: () => bin('tsc', ['-p', '.']),
  'types of core': () => bin('tsc', ['-p', 'src/core']),
  arrows: () => bin('depcruise', ['src', '--config', '.dependency-cruiser.cjs']),
};

if (import.meta.url === pathToFileURL(process.argv[1]).href) {
  if (!ensurePackages()) process.exit(1);
  const failed = Object.entries(checks).filter(([, check]) => !check());
  if (failed.length) console.error(`Failed: ${failed.map(([name]) => name).join(', ')}.`);
  process.exit(failed.length ? 1 : 0);
}
