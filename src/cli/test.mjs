/**
 * Everything that can be checked by a machine, part after part; a part that fails does not stop the others.
 * `--long` adds tests/long. Ends with the line "N passed, N failed".
 */
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, relative, resolve } from 'node:path';
import { checks } from './lint.mjs';
import { bin, ensurePackages, ensurePrograms, root } from './setup.mjs';

const long = process.argv.includes('--long');
const work = mkdtempSync(join(tmpdir(), 'holdfast-test-'));
const total = { passed: 0, failed: 0 };
const times = [];
/** The tests that failed, each with the first line of why: a long log's end is often all that is kept of it. */
const failures = [];

/** Runs one part and counts it. `check` gives true or false, or how many passed and failed. */
function part(name, check) {
  console.log(`\n== ${name}`);
  const began = performance.now();
  let result;
  try {
    result = check();
  } catch (error) {
    console.error(error instanceof Error ? error.message : error);
    result = false;
  }
  const counted = typeof result === 'boolean' ? { passed: +result, failed: +!result } : result;
  total.passed += counted.passed;
  total.failed += counted.failed;
  times.push({ name, ...counted, seconds: (performance.now() - began) / 1000 });
  return counted.failed === 0;
}

/** Runs a vitest configuration; what ends badly without a failed test (a file that does not load) is one failure. */
function vitest(config, name) {
  const report = join(work, `${name}.json`);
  const ended = bin('vitest', [
    'run',
    '--config',
    config,
    '--reporter=default',
    '--reporter=json',
    `--outputFile.json=${report}`,
  ]);
  if (!existsSync(report)) return false;
  const {
    numPassedTests: passed,
    numFailedTests: failed,
    testResults,
  } = JSON.parse(readFileSync(report, 'utf8'));
  const broken = testResults.filter((file) => file.status === 'failed' && file.assertionResults.length === 0);
  const say = (file, what, why) =>
    failures.push(`${relative(root, file.name)}: ${what}${why ? `\n    ${why.trim().split('\n')[0]}` : ''}`);
  for (const file of broken) say(file, 'did not load', file.message);
  for (const file of testResults)
    for (const { status, fullName, failureMessages } of file.assertionResults)
      if (status === 'failed') say(file, fullName, failureMessages?.[0]);
  return { passed, failed: Math.max(failed + broken.length, ended ? 0 : 1) };
}

if (part('packages', ensurePackages)) {
  part('programs', () => ensurePrograms(['chromium', 'firefox', 'pulseaudio', 'pdfinfo']));
  // Without these some files cannot be made, and their tests are skipped by name.
  ensurePrograms(['qpdf', 'tiffcp', 'opj_compress']);
  for (const [name, check] of Object.entries(checks)) part(name, check);
  const built = part('build', () => bin('vite', ['build', '--logLevel', 'warn']));
  part('unit tests', () => vitest('vitest.config.ts', 'unit'));
  if (built) {
    part('browser tests', () => vitest('tests/browser/vitest.config.mjs', 'browser'));
    part('add-on lint', () => bin('web-ext', ['lint', '--source-dir', 'dist', '--no-config-discovery']));
  }
  if (long && existsSync(resolve(root, 'tests/long/vitest.config.mjs')))
    part('long tests', () => vitest('tests/long/vitest.config.mjs', 'long'));
}
rmSync(work, { recursive: true, force: true });

console.log('');
for (const failure of failures) console.log(`failed: ${failure}`);
for (const { name, passed, failed, seconds } of times)
  console.log(`${seconds.toFixed(1).padStart(7)} s  ${name}: ${passed} passed, ${failed} failed`);
console.log(`${total.passed} passed, ${total.failed} failed`);
process.exit(total.failed ? 1 : 0);
