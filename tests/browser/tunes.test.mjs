import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { readFileSync } from 'node:fs';
import { BlendMode, PDFDocument, rgb } from 'pdf-lib';
import { nameOf, shelfSave } from '../bench/shelf.ts';
import { checkAxe } from './drive/axe.mjs';
import { hashOf, played, saveFor } from './drive/charts.mjs';
import { briefly, choose, linesOf, readStand, sample, start, until } from './drive/index.mjs';
import { readLog } from './drive/log.mjs';

const COUNT = 200;
const chartOf = (n) => `chart-${String(n).padStart(5, '0')}`;

/** A save of another machine, where the sample is a part of its file with a key of its own. */
function part(name, machine, numbers, before) {
  const { file } = saveFor(name, numbers, before);
  const save = JSON.parse(file.bytes.replaceAll(`"${name}-`, `"${name}-${machine}-`));
  for (const event of save.events) {
    event.chart = `${name}-${machine}`;
    if (event.type === 'opened') event.name = `Harbour ${machine}`;
  }
  return { ...file, name: `${machine}.json`, bytes: JSON.stringify(save) };
}

/** What the list shows: names of the rows drawn in order, how many there are in all, the line with its undo. */
const readTunes = (page) =>
  page.evaluate(() => {
    const rows = [...document.querySelectorAll('li.tune')];
    const textOf = (selector) => document.querySelector(selector)?.textContent.trim() ?? null;
    return {
      names: rows.map((row) => row.querySelector('.named strong').textContent),
      count: Number(document.querySelector('.tunes')?.dataset.count ?? 0),
      places: [...document.querySelectorAll('.places button')].map((button) => button.textContent.trim()),
      change: textOf('.line.change p'),
      empty: textOf('.empty'),
    };
  });
const showsTunes = (page, wanted, what = JSON.stringify(wanted)) =>
  until(
    () => readTunes(page),
    (now) =>
      Object.entries(wanted).every(([key, value]) => JSON.stringify(now[key]) === JSON.stringify(value)),
    `the tunes page shows ${what}`,
  );

describe.each(briefly('chromium'))('the tunes page in %s', (name) => {
  let driver, page;
  const press = (selector) => page.waitForSelector(selector).then(() => page.click(selector));
  const search = async (text) => {
    await page.click('input[type="search"]', { count: 3 });
    await page.keyboard.press('Backspace');
    await page.type('input[type="search"]', text);
  };
  const openTunes = async () => {
    await page?.close();
    page = await driver.openPage('tunes/index.html');
    await page.waitForSelector('html[data-state="ready"]');
  };
  /** Opens the menu of the first row and presses one of its buttons. */
  const inMenu = async (button, row = 0) => {
    await press(`li[data-index="${row}"] summary`);
    await press(`li[data-index="${row}"] .row-menu ${button}`);
  };
  const onStand = () =>
    until(
      () => page.evaluate(() => location.pathname + document.documentElement.dataset.state),
      (now) => now === '/stand/index.htmlready',
      'the chart is on the stand',
    );
  /** Lists the tunes of a set. */
  const goTo = async (set) => {
    const places = () => page.$$('.places button');
    const names = () => page.$$eval('.places button', (all) => all.map(({ textContent }) => textContent));
    const found = await until(names, (now) => now.some((each) => each.includes(set)), `${set} is a place`);
    await (await places())[found.findIndex((each) => each.includes(set))].click();
  };
  const undo = async () => {
    await page.keyboard.down('Control');
    await page.keyboard.press('KeyZ');
    await page.keyboard.up('Control');
  };

  beforeAll(async () => {
    driver = await start(name);
    await openTunes();
    await choose(page, 'input.open-file', {
      name: 'years.json',
      bytes: JSON.stringify(shelfSave(COUNT, 'aaba', true)),
      type: 'application/json',
    });
    await until(
      () => readTunes(page),
      ({ count }) => count === COUNT,
      'the shelf is full',
      60,
    );
  });
  afterAll(() => driver.close());

  test('hundreds of tunes: few rows are drawn, every one is reached by key and found by typing', async () => {
    const { names } = await readTunes(page);
    expect(names.length).toBeLessThan(40);
    await page.focus('li[data-index="0"] a');
    await page.keyboard.press('ArrowDown');
    expect(await page.evaluate(() => document.activeElement.closest('li').dataset.index)).toBe('1');
    await page.keyboard.press('End');
    const last = await until(
      () => page.evaluate(() => document.activeElement.closest('li')?.dataset.index),
      (index) => index === String(COUNT - 1),
      'the last row has the focus',
    );
    expect(last).toBe(String(COUNT - 1));
    // It is in view, and so are the rows before it.
    await until(
      () => page.evaluate(() => document.querySelectorAll('li.tune').length),
      (rows) => rows > 5 && rows < 40,
      'rows about the last',
    );
    const seen = await page.evaluate(() => {
      const { top, bottom } = document.activeElement.getBoundingClientRect();
      return top >= 0 && bottom <= innerHeight;
    });
    expect(seen).toBe(true);
    await page.keyboard.press('Home');
    await page.waitForFunction(() => document.activeElement.closest('li')?.dataset.index === '0');
    await page.keyboard.press('Slash');
    await page.keyboard.type('HAFEN ore 1');
    // Häfen Øre 1
    await showsTunes(page, { names: [nameOf(95)], count: 1 });
    await search('no such tune');
    await showsTunes(page, { count: 0, empty: 'Nothing found for “no such tune”.show all' });
    await press('.empty button');
    await showsTunes(page, { count: COUNT });
  });

  test('name, words and sets are changed and found; undo takes it back', async () => {
    await search('Gannet Waltz 2');
    await showsTunes(page, { names: [nameOf(104)] });
    await inMenu('.details');
    await page.waitForSelector('dialog[open]');
    await checkAxe(page, 'name, words, sets');
    await page.click('dialog input[name="name"]', { count: 3 });
    await page.keyboard.type('Sea Fret');
    await page.type('dialog textarea', 'for Łucja, low key');
    await page.type('dialog input[name="new-set"]', 'Pier');
    await page.click('dialog button.first');
    await showsTunes(page, { count: 0, change: '“Gannet Waltz 2” was changed.' });
    await search('lucja LOW');
    await showsTunes(page, { names: ['Sea Fret'] });
    expect((await readTunes(page)).places).toContain('Pier 1');
    const log = await readLog(page, chartOf(104));
    expect(log.slice(-3).map(({ type }) => type)).toEqual(['named', 'noted', 'listed']);
    await press('.line.change .undo');
    await showsTunes(page, { count: 0, change: null });
    await search('gannet waltz 2');
    await showsTunes(page, { names: [nameOf(104)] });
    expect((await readTunes(page)).places).not.toContain('Pier 1');
    await search('');
  });

  test('several at once: into a set, its order, another name, apart; archive and remove, each taken back', async () => {
    await press('.choose-several');
    await checkAxe(page, 'choosing');
    const { names } = await readTunes(page);
    for (const row of [0, 1, 2]) await page.click(`li[data-index="${row}"] input`);
    await press('.chosen .put-in-set');
    // Opened, it has the keyboard: what is typed before is lost.
    await page.waitForSelector('dialog[open] input[name="set"]');
    await page.type('dialog input[name="set"]', 'Spring dance');
    await page.keyboard.press('Enter');
    await showsTunes(page, { change: '3 tunes are in “Spring dance”.' });
    await goTo('Spring');
    const [a, b, c] = names;
    await showsTunes(page, { names: [a, b, c] });
    await inMenu('.later');
    await showsTunes(page, { names: [b, a, c] });
    await inMenu('.earlier', 2);
    await showsTunes(page, { names: [b, c, a] });
    await press('.rename-set');
    await page.click('dialog input[name="set"]', { count: 3 });
    await page.keyboard.type('May dance');
    await page.keyboard.press('Enter');
    await showsTunes(page, { names: [b, c, a], change: 'The set is now called “May dance”.' });

    // The page is opened anew: all of it was kept.
    await openTunes();
    expect((await readTunes(page)).places).toContain('May dance 3');
    await goTo('May');
    await showsTunes(page, { names: [b, c, a] });
    await inMenu('.take-out', 1);
    await showsTunes(page, { names: [b, a] });
    await undo();
    await showsTunes(page, { names: [b, c, a], change: null });

    await press('.choose-several');
    await press('.chosen .choose-all');
    await press('.chosen .archive');
    // A set whose tunes are all away is no more.
    await showsTunes(page, { count: COUNT - 3, change: '3 tunes are in the archive.' });
    await press('button[data-place="archive"]');
    await showsTunes(page, { count: 3 });
    await inMenu('.remove');
    await showsTunes(page, { count: 2 });
    await undo();
    await showsTunes(page, { count: 3 });
    await undo();
    await showsTunes(page, { count: 0, change: null });
    expect((await readTunes(page)).empty).toMatch(/^Nothing is in the archive/);
    await press('button[data-place="all"]');
    await showsTunes(page, { count: COUNT });
    expect((await readTunes(page)).places).toContain('May dance 3');
  });

  test('a dropped copy is asked for again: another file is told, the same one opens', async () => {
    await choose(page, 'input.open-file', sample('waltz.pdf'), sample('endings.pdf'));
    await showsTunes(page, { count: COUNT + 2 });
    await search('waltz');
    await page.select('.sort select', 'added');
    await until(
      () => readTunes(page),
      ({ names }) => names[0] === 'waltz',
      'the newest first',
    );
    await inMenu('.drop-copy');
    await press('[data-command="confirm"]');
    await until(
      () => page.$eval('li[data-index="0"] .about', (about) => about.textContent),
      (about) => about.includes('file not kept'),
      'the copy is gone',
    );
    await press('li[data-index="0"] a');
    await page.waitForSelector('dialog[open] .file-again', { visible: false });
    await choose(page, 'dialog .file-again', sample('endings.pdf'));
    const lines = await until(
      () => linesOf(page),
      (now) => now.length > 0,
      'the other file is told',
    );
    expect(lines).toEqual([expect.stringMatching(/^“endings.pdf” is not the file/)]);
    await checkAxe(page, 'another file');
    await choose(page, 'dialog .file-again', sample('waltz.pdf'));
    await onStand();
    expect(await page.evaluate(() => location.hash)).toBe(`#chart=${hashOf('waltz')}`);
  });

  test('without copies a chart asks for its file when it is opened again, and on the stand it is at home', async () => {
    await openTunes();
    await press('[data-command="settings"]');
    await press('.keep-copies input');
    await checkAxe(page, 'no copies');
    await page.keyboard.press('Escape');
    // Several files taken at once wait for their first opening.
    await choose(page, 'input.open-file', sample('two-pages.pdf'), sample('rotated.pdf'));
    await showsTunes(page, { count: COUNT + 4 });
    await openTunes();
    await search('rotated');
    await showsTunes(page, { names: ['rotated'] });
    await inMenu('.remove');
    await showsTunes(page, { count: 0 });
    await search('two-pages');
    await showsTunes(page, { names: ['two-pages'] });
    await press('li[data-index="0"] a');
    await onStand();
    // What begins the stand anew still finds the file.
    // Firefox's driver waits in vain for a page to have loaded again whose address was changed by itself.
    await page.evaluate(() => {
      document.documentElement.dataset.state = 'before';
      location.reload();
    });
    await onStand();
    await openTunes();
    // So does the tune of today, whose file came with no save.
    await press('.today a.begin');
    await page.waitForSelector('dialog[open] .file-again', { visible: false });
    expect(await page.evaluate(() => document.activeElement.matches('dialog button.first'))).toBe(true);
    await page.keyboard.press('Escape');
    await page.select('.sort select', 'added');
    await until(
      () => page.$eval('li[data-index="0"] .about', (about) => about.textContent),
      (about) => about.includes('file not kept'),
      'no copy is kept',
    );
    await press('li[data-index="0"] a');
    await page.waitForSelector('dialog[open] .file-again', { visible: false });
    await choose(page, 'dialog .file-again', sample('two-pages.pdf'));
    await onStand();
    await openTunes();
    // It was never among the copies; two are kept since before.
    await press('[data-command="settings"]');
    const text = () => page.$eval('.storage', (storage) => storage.textContent);
    await until(text, (now) => /copies of your files2 files/.test(now), 'two copies');
    expect(await text()).toMatch(/2 files, [\d.]+ kB, are still kept/);
    await press('.keep-copies input');
    await page.waitForSelector('.keep-copies input:checked');
    await page.keyboard.press('Escape');
    await search('long passage');
    await showsTunes(page, { names: ['Long Passage Home'] });
    await inMenu('.remove');
    await showsTunes(page, { count: 0 });
  });

  test('coming back from a chart the list is as it was left; another tab begins afresh', async () => {
    await openTunes();
    await page.select('.sort select', 'added');
    await search('a');
    const { count } = await until(
      () => readTunes(page),
      (now) => now.count > 50 && now.count < COUNT,
      'many are found',
    );
    const top = await page.evaluate(() => {
      scrollTo({ top: document.documentElement.scrollHeight / 2, behavior: 'instant' });
      return scrollY;
    });
    expect(top).toBeGreaterThan(500);
    // The stand's own way back, as a link in the same tab.
    await page.evaluate((chart) => (location.href = `/stand/index.html#chart=${chart}`), hashOf('waltz'));
    await onStand();
    await page.click('.stand-top a');
    await page.waitForSelector('html[data-state="ready"] li.tune');
    expect((await readTunes(page)).count).toBe(count);
    expect(await page.$eval('input[type="search"]', ({ value }) => value)).toBe('a');
    await until(
      () => page.evaluate(() => scrollY),
      (now) => Math.abs(now - top) < 2,
      'it is scrolled to where it was',
    );
    await openTunes();
    await showsTunes(page, { count: COUNT + 2 });
  });

  test('all copies not played for long are dropped, marks and history stay', async () => {
    await openTunes();
    await press('[data-command="settings"]');
    const text = () => page.$eval('.storage', (storage) => storage.textContent);
    expect(await text()).toMatch(/copies of your files2 files, \d+ kB/);
    expect(await text()).toMatch(/room left[\d.]+ [MG]B/);
    expect(await text()).toContain('Every file that is kept has been played or opened in the last 90 days.');
    await page.keyboard.press('Escape');
    // The removed chart needs no file.
    await search('endings');
    await showsTunes(page, { names: ['endings'] });
    await inMenu('.remove');
    await showsTunes(page, { count: 0 });
    await press('[data-command="settings"]');
    await press('.drop-old');
    await press('[data-command="confirm"]');
    await until(text, (now) => now.includes('copies of your files1 file,'), 'one copy is left');
    await page.keyboard.press('Escape');
    expect((await readLog(page, hashOf('endings'))).map(({ type }) => type)).toContain('removed');
  });

  test('a new edition stays apart; its marks are carried over by hand, or it is left, and asked once', async () => {
    await openTunes();
    const bytes = Buffer.concat([readFileSync(sample('waltz.pdf')), Buffer.from('\n% a later print\n')]);
    // The one before is boxed: its marks come with a save.
    await choose(page, 'input.open-file', saveFor('waltz', { start: 60, goal: 80 }).file);
    await until(
      () => linesOf(page),
      (lines) => lines.length === 0,
      'merged',
    );
    await choose(
      page,
      'input.open-file',
      { name: 'waltz.pdf', bytes, type: 'application/pdf' },
      sample('scanned.pdf'),
    );
    await page.waitForSelector('.line.edition');
    await checkAxe(page, 'a new edition');
    await press('.line.edition .apart');
    await page.waitForFunction(() => !document.querySelector('.line.edition'));
    await openTunes();
    await page.waitForFunction(() => document.querySelector('.tunes'));
    await new Promise((go) => setTimeout(go, 500));
    expect(await page.$('.line.edition')).toBeNull();

    const later = Buffer.concat([bytes, Buffer.from('% and a later one\n')]);
    await choose(
      page,
      'input.open-file',
      { name: 'waltz.pdf', bytes: later, type: 'application/pdf' },
      sample('scanned.pdf'),
    );
    await press('.line.edition .carry');
    await onStand();
    const chart = await page.evaluate(() => new URLSearchParams(location.hash.slice(1)).get('chart'));
    expect(chart).not.toBe(hashOf('waltz'));
    const log = await readLog(page, chart);
    expect(log.map(({ type }) => type)).toEqual(['opened', 'marks', 'carried']);
    expect(log[2]).toMatchObject({ of: hashOf('waltz'), what: 'marks' });
    const before = (await readLog(page, hashOf('waltz'))).filter(({ type }) => type === 'marks');
    expect(before.map(({ marks }) => marks)).toContainEqual(log[1].marks);
    // They lie on the page, to be put right by hand; nothing of the old one has moved.
    await page.waitForSelector('.marks-bar');
    expect((await readStand(page)).warnings).toEqual([]);
    await openTunes();
    await new Promise((go) => setTimeout(go, 500));
    expect(await page.$('.line.edition')).toBeNull();
  });

  test('two charts of the same lines, from two machines, are joined, apart again, and joined once for all', async () => {
    await openTunes();
    const numbers = { start: 60, goal: 70, streak: 1 };
    const bar = (n) => ({ ...played('aaba', numbers, 'clean'), from: n, to: n });
    const saves = [part('aaba', 'here', numbers, [bar(0)]), part('aaba', 'away', numbers, [bar(1), bar(2)])];
    // A chart that is opened beside them has not come with them.
    await choose(page, 'input.open-file', sample('rotated.pdf'), ...saves);
    await page.waitForFunction(() =>
      document
        .querySelector('.lines')
        .textContent.includes('1 chart opened. Merged: 2 new tunes, 3 more passes.'),
    );
    const line = () => page.$eval('.line.join p', ({ textContent }) => textContent).catch(() => null);
    const offered = (text) => until(line, (now) => now === text, text ?? 'nothing is offered');
    const QUESTION =
      '“Harbour here” and “Harbour away” hold the same lines of one file. Join them? ' +
      '“Harbour away” stays with its marks; what was done on the other counts in it.';
    await offered(QUESTION);
    await checkAxe(page, 'two of the same lines');
    await search('harbour away');
    await showsTunes(page, { names: ['Harbour away'] });
    const climbed = () =>
      page.$$eval('li.tune .climbed', (rungs) => rungs.map((rung) => rung.getAttribute('d')));
    const before = await climbed();
    await search('');
    await press('.line.join .join-them');
    await offered(null);
    await search('harbour');
    await until(
      () => readTunes(page),
      ({ names }) => names.includes('Harbour away') && !names.includes('Harbour here'),
      'one of the two is listed',
    );
    await search('harbour away');
    // The first rung is filled higher: a third bar is done.
    await until(climbed, (now) => now[0] !== before[0], 'what was done on the other counts');
    await press('.line.change .undo');
    await search('');
    await offered(QUESTION);
    await press('.line.join .join-them');
    await offered(null);
    // The same saves again: nothing comes back, nothing is asked.
    await choose(page, 'input.open-file', ...saves);
    await page.waitForFunction(() =>
      document.querySelector('.lines').textContent.includes('Merged: all of it was here'),
    );
    await openTunes();
    await new Promise((go) => setTimeout(go, 500));
    expect(await line()).toBeNull();
    // The other machine played on.
    await choose(page, 'input.open-file', part('aaba', 'here', numbers, [bar(0), bar(1), bar(2), bar(3)]));
    await offered(
      '“Harbour here” has been played elsewhere since it was joined to “Harbour away”. Count what was done there too?',
    );
    await press('.line.join .join-them');
    await offered(null);
    expect((await readLog(page, 'aaba-here')).filter(({ type }) => type === 'pass')).toHaveLength(4);
  });

  test('the browser is asked to keep everything; a save is mentioned when there is none, and made', async () => {
    await openTunes();
    await page.waitForSelector('.saved-line');
    expect(await page.$eval('.saved-line', (line) => line.textContent)).toBe(
      'Nothing has been saved to a file yet.',
    );
    if (await page.evaluate(() => navigator.storage.persisted().then((kept) => !kept))) {
      await press('.promise-line .ask-to-keep');
      await page.waitForFunction(() =>
        document.querySelector('.lines').textContent.includes('promised to keep'),
      );
    }
    await press('.foot button');
    await page.waitForFunction(() => !document.querySelector('.saved-line'));
    await openTunes();
    await new Promise((go) => setTimeout(go, 500));
    expect(await page.$('.saved-line')).toBeNull();
  });

  // Last: its copy stays, and the tests before count copies.
  test('the picture of a grey scan has white paper and dark ink', async () => {
    const pdf = await PDFDocument.load(readFileSync(sample('scanned.pdf')));
    for (const sheet of pdf.getPages())
      sheet.drawRectangle({ ...sheet.getSize(), color: rgb(0.72, 0.7, 0.68), blendMode: BlendMode.Multiply });
    await openTunes();
    const grey = { name: 'grey copy.pdf', bytes: await pdf.save(), type: 'application/pdf' };
    await choose(page, 'input.open-file', grey, sample('first.pdf'));
    await search('grey copy');
    await page.waitForSelector('li[data-index="0"] img');
    await showsTunes(page, { names: ['grey copy'] });
    const [white, dark] = await page.$eval('li[data-index="0"] img', async (image) => {
      await image.decode();
      const canvas = new OffscreenCanvas(image.naturalWidth, image.naturalHeight);
      const context = canvas.getContext('2d');
      context.drawImage(image, 0, 0);
      const { data } = context.getImageData(0, 0, canvas.width, canvas.height);
      const blue = Array.from({ length: data.length / 4 }, (_, i) => data[4 * i + 2]);
      const share = (wanted) => blue.filter(wanted).length / blue.length;
      return [share((value) => value === 255), share((value) => value < 40)];
    });
    expect(white).toBeGreaterThan(0.7);
    expect(dark).toBeGreaterThan(0.005);
    await inMenu('.remove');
    await showsTunes(page, { count: 0 });
  });
});
