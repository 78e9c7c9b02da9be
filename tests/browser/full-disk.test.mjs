import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, statfsSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { hashOf, putOnStand } from './drive/charts.mjs';
import { briefly, choose, linesOf, playClean, press, sample, shows, start, until } from './drive/index.mjs';
import { readLog, readPasses } from './drive/log.mjs';

/** A file system of its own for the profile: only root on Linux may have one. */
const mayMount = process.platform === 'linux' && process.getuid?.() === 0;
const MiB = 2 ** 20;

/** Takes every free byte. */
function fill(disk) {
  const { bavail, bsize } = statfsSync(disk);
  try {
    writeFileSync(join(disk, 'ballast'), Buffer.alloc(bavail * bsize));
  } catch (error) {
    if (error.code !== 'ENOSPC') throw error;
  }
}
const makeRoom = (disk) => rmSync(join(disk, 'ballast'));

describe.skipIf(!mayMount).each(briefly('firefox'))('a full disk in %s', (name) => {
  const disk = mkdtempSync(join(tmpdir(), `full-${name}-`));
  const profile = join(disk, 'profile');
  let driver;
  beforeAll(async () => {
    execFileSync('mount', ['-t', 'tmpfs', '-o', `size=${160 * MiB}`, 'tmpfs', disk]);
    mkdirSync(profile);
    driver = await start(name, { profile });
  });
  afterAll(async () => {
    await driver.kill();
    execFileSync('umount', ['-l', disk]);
    rmSync(disk, { recursive: true });
  });

  test('a verdict that was not kept is not shown as counted; what was kept is intact', async () => {
    const numbers = { start: 240, goal: 240, streak: 40, joinStreak: 40 };
    const { page, path } = await putOnStand(driver, 'first', numbers);
    await press(page, 'begin');
    await playClean(page, 2);
    const kept = await readLog(page, hashOf('first'));
    fill(disk);
    // How many writes still find room is the browser's own business: none of them may be lost.
    const stopped = await shows(page, { phase: 'stopped' }, 120);
    expect(stopped.warnings).toHaveLength(1);
    expect(stopped.warnings[0]).toMatch(/could not be kept.*Make room if the disk is full/);
    expect(stopped.tight).toBe(2);

    // Chromium cannot even open a database on a full disk; Firefox can, and then a chart finds no room.
    const tunes = await driver.openPage('tunes/index.html');
    await tunes.waitForSelector('html[data-state]');
    if (await tunes.$('html[data-state="ready"]'))
      await choose(tunes, 'input.open-file', sample('scanned.pdf'));
    const lines = await until(
      () => linesOf(tunes),
      (now) => now.length > 0,
      'a line is shown',
    );
    expect(lines).toHaveLength(1);
    expect(lines[0]).toMatch(/[Mm]ake room/);
    await tunes.close();

    makeRoom(disk);
    await page.bringToFront();
    const log = await readLog(page, hashOf('first'));
    expect(log.slice(0, kept.length)).toEqual(kept);
    // What stood on the screen is what is in the log.
    expect((await readPasses(page, hashOf('first'))).length).toBe(stopped.tight + stopped.loose);
    await press(page, 'begin');
    await shows(page, { loose: stopped.loose + 1 }, 30);
    await press(page, 'clean');
    const tight = stopped.tight + stopped.loose + 1;
    await shows(page, { tight, loose: 0 });
    await press(page, 'pause');
    await shows(page, { phase: 'paused', tight });
    await page.close();
    const again = await driver.openPage(path);
    await shows(again, { state: 'ready', tight, span: '1' });
    expect((await readLog(again, hashOf('first'))).slice(0, log.length)).toEqual(log);
  });
});
