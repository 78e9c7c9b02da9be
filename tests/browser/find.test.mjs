import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { iou } from '../../src/core/chart/place.ts';
import { proposalFrom } from '../../src/core/find/proposal.ts';
import { Names } from '../../src/core/find/engraved/index.ts';
import { findOnPage } from '../../src/core/find/page.ts';
import { openInk } from '../../src/pdf/node.ts';
import { hashOf, putOnStand } from './drive/charts.mjs';
import { briefly, choose, press, readStand, sample, shows, start, until } from './drive/index.mjs';
import { readLog } from './drive/log.mjs';
import { bitScan, jpegScan } from '../files/images.mjs';

const marksOf = (name) => JSON.parse(readFileSync(sample(`${name}.marks.json`), 'utf8'));
const boxesOf = ({ systems }) =>
  systems.flatMap(({ page, top, bottom, bars }) =>
    bars.map(({ x0, x1 }) => ({ page, box: [x0, top, x1, bottom] })),
  );

const likeness = (a, b) => (a.page === b.page ? iou(a.box, b.box) : 0);

/** What Node finds on the same file. */
async function foundInNode(bytes) {
  const file = await openInk(new Uint8Array(bytes));
  const pages = [];
  const names = new Names();
  for (let i = 0; i < file.pages; i++) pages.push(await findOnPage(file, i, names));
  await file.destroy();
  let id = 0;
  return proposalFrom(pages, () => String(id++));
}

const marksKept = (page, chart) =>
  readLog(page, hashOf(chart)).then((log) => log.filter(({ type }) => type === 'marks').at(-1)?.marks);

describe.each(briefly('chromium'))('the page marks itself in %s', (name) => {
  let driver;
  beforeAll(async () => {
    driver = await start(name, { size: { width: 1440, height: 900 } });
  });
  afterAll(() => driver.close());

  async function open(chart) {
    const page = await driver.openPage('tunes/index.html');
    await page.waitForSelector('html[data-state="ready"]');
    await choose(page, 'input.open-file', sample(`${chart}.pdf`));
    return page;
  }

  test.each(['first', 'aaba', 'endings', 'waltz', 'two-pages', 'rotated', 'scanned'])(
    '%s: from the file to the first click with no touch but the play key',
    async (chart) => {
      const page = await open(chart);
      const began = performance.now();
      await until(
        () => readStand(page),
        (now) => now.state === 'ready' && now.phase === 'idle',
        `${chart} ready to be played`,
      );
      await page.keyboard.press('KeyB');
      await until(
        () => readStand(page),
        (now) => now.phase === 'count-in' || now.phase === 'playing',
        `${chart} sounds`,
      );
      expect((performance.now() - began) / 1000).toBeLessThan(20);
      await press(page, 'pause');

      // The tune is called what stands over it; a scan's words are not read.
      const titles = { first: 'Slack Water', aaba: 'The Net Menders', endings: 'Two Tides' };
      if (titles[chart]) expect(await page.title()).toBe(titles[chart]);

      const found = await marksKept(page, chart);
      const wanted = boxesOf(marksOf(chart));
      const boxes = boxesOf(found);
      expect(boxes).toHaveLength(wanted.length);
      for (const [i, box] of boxes.entries())
        expect(likeness(box, wanted[i]), `bar ${i}`).toBeGreaterThan(0.75);
      const inNode = await foundInNode(readFileSync(sample(`${chart}.pdf`)));
      // The browser's own ids apart, what it found is what Node finds.
      const plain = ({ systems, ...rest }) => ({
        ...rest,
        systems: systems.map(({ id: _system, bars, ...system }) => ({
          ...system,
          bars: bars.map(({ id: _bar, as, ...bar }) => ({ ...bar, twin: as !== undefined })),
        })),
      });
      expect(plain(found)).toEqual(plain(inNode));
      await page.close();
    },
  );

  test('a JPEG, which the browser decodes, has the bars that Node finds in it', async () => {
    const page = await driver.openPage('tunes/index.html');
    await page.waitForSelector('html[data-state="ready"]');
    const bytes = jpegScan(false)();
    await choose(page, 'input.open-file', { name: 'jpeg.pdf', type: 'application/pdf', bytes });
    await until(
      () => readStand(page),
      (now) => now.state === 'ready' && now.phase === 'idle',
      'the scan ready to be played',
    );
    const found = (await readLog(page, createHash('sha256').update(bytes).digest('hex')))
      .filter(({ type }) => type === 'marks')
      .at(-1).marks;
    const kindsOf = ({ systems }) => systems.map(({ bars }) => bars.map(({ left, right }) => [left, right]));
    const inNode = await foundInNode(bytes);
    expect(kindsOf(found)).toEqual(kindsOf(inNode));
    const wanted = boxesOf(inNode);
    expect(wanted.length).toBeGreaterThan(8);
    for (const [i, box] of boxesOf(found).entries())
      expect(likeness(box, wanted[i]), `bar ${i}`).toBeGreaterThan(0.97);
    await page.close();
  });

  test('a scan whose large picture was let go is drawn again', async () => {
    const page = await driver.openPage('tunes/index.html');
    await page.waitForSelector('html[data-state="ready"]');
    const file = { name: 'large.pdf', type: 'application/pdf', bytes: bitScan(600) };
    await choose(page, 'input.open-file', file);
    await shows(page, { state: 'ready' });
    /** The width of the page and of what was drawn last, and the share of it that is ink. */
    const drawing = () =>
      page.evaluate(() => {
        const canvas = [...document.querySelectorAll('.page canvas')].at(-1);
        const wanted = document.querySelector('.page')?.clientWidth * devicePixelRatio;
        if (!canvas?.width) return { wanted, width: 0, ink: 0 };
        const { width, height } = canvas;
        const { data } = canvas.getContext('2d').getImageData(0, 0, width, height);
        let ink = 0;
        for (let i = 0; i < data.length; i += 4) if (data[i + 3] > 0 && data[i] < 128) ink++;
        return { wanted, width, ink: ink / (width * height) };
      });
    const isDrawn = ({ wanted, width, ink }) => Math.abs(width - wanted) <= 2 && ink > 0.01;
    await shows(page, { phase: 'idle' });
    const before = await until(drawing, isDrawn, 'it is drawn for the drill');
    // Marks are set at another width than a drill.
    await press(page, 'marks');
    await until(
      drawing,
      (now) => now.wanted !== before.wanted && isDrawn(now),
      'it is drawn at another width',
    );
    await page.close();
  });

  test('what the player touched survives finding again', async () => {
    const page = await open('aaba');
    await shows(page, { state: 'ready' });
    await press(page, 'marks');
    await page.waitForSelector('.marks-sheet');
    const bars = await page.$$('[data-mark="bar"]');
    await bars[1].click();
    await page.keyboard.press('KeyR');
    const touched = await until(
      () => marksKept(page, 'aaba'),
      (marks) => marks.systems[0].bars[1].silent === true,
      'the change is kept',
    );
    expect(touched.systems[0].bars[1].found).toBeUndefined();
    await page.keyboard.down('Shift');
    await page.keyboard.press('KeyF');
    await page.keyboard.up('Shift');
    await page.waitForSelector('.marks-changes');
    expect(await page.$eval('.marks-changes h2', (line) => line.textContent)).toMatch(
      /0 bars new, 0 gone, 4 of yours/,
    );
    await press(page, 'marks-begin');
    await shows(page, { phase: 'idle' });
    const after = await marksKept(page, 'aaba');
    expect(after.systems[0]).toEqual(touched.systems[0]);
    expect(after.systems.flatMap(({ bars: all }) => all.map(({ id }) => id))).toEqual(
      touched.systems.flatMap(({ bars: all }) => all.map(({ id }) => id)),
    );
    await page.close();
  });
});

describe.each(briefly('chromium'))('what was found in doubt in %s', (name) => {
  let driver;
  beforeAll(async () => {
    driver = await start(name, { size: { width: 1440, height: 900 } });
  });
  afterAll(() => driver.close());

  test('bars in doubt are asked about one after the other, each one key from right', async () => {
    const marks = marksOf('endings');
    const bars = marks.systems.flatMap((system) => system.bars);
    const doubtful = [bars[2].id, bars[9].id];
    const found = {
      ...marks,
      version: 2,
      systems: marks.systems.map((system) => ({
        ...system,
        bars: system.bars.map((bar) => ({ ...bar, found: doubtful.includes(bar.id) ? 0.5 : 0.99 })),
      })),
    };
    const { page } = await putOnStand(driver, 'endings', {}, [
      { type: 'marks', parent: 'endings-1', marks: found },
    ]);
    await press(page, 'marks');
    await page.waitForSelector('[data-doubts="2"]');
    const chosen = () => page.$eval('.marks-bar[aria-selected="true"]', (bar) => bar.dataset.bar);
    await page.keyboard.press('KeyQ');
    await until(chosen, (bar) => bar === doubtful[0], 'the first doubt is selected');
    await page.keyboard.press('KeyV');
    await page.waitForSelector('[data-doubts="1"]');
    await until(chosen, (bar) => bar === doubtful[1], 'the next doubt is selected');
    await page.keyboard.press('KeyV');
    await page.waitForSelector('[data-doubts]', { hidden: true });
    const kept = await until(
      () => marksKept(page, 'endings'),
      (now) => now.systems.flatMap((system) => system.bars).every((bar) => bar.found !== 0.5),
      'what was said is kept',
    );
    // Nobody has said anything of the others.
    expect(kept.systems.flatMap((system) => system.bars).filter((bar) => bar.found === 0.99)).toHaveLength(
      bars.length - 2,
    );
    await page.close();
  });
});
