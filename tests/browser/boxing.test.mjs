import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { readFileSync } from 'node:fs';
import { hashOf } from './drive/charts.mjs';
import { briefly, choose, press, sample, start, until } from './drive/index.mjs';
import { readLog, readSettings } from './drive/log.mjs';

const { systems } = JSON.parse(readFileSync(sample('aaba.marks.json'), 'utf8'));
/** Places of a system's bar lines across the page. */
const linesAcross = ({ bars }) => [bars[0].x0, ...bars.map(({ x1 }) => x1)];
const boxes = (marks) =>
  marks.systems.flatMap(({ top, bottom, bars }) => bars.map(({ x0, x1 }) => [x0, top, x1, bottom]));
/** Sections and twins, by place. */
function said(marks) {
  const bars = marks?.systems.flatMap((system) => system.bars) ?? [];
  return bars.map(({ section = null, as }) => [section, bars.findIndex(({ id }) => id === as)]);
}
const area = ([x0, y0, x1, y1]) => Math.max(0, x1 - x0) * Math.max(0, y1 - y0);
function overlap(a, b) {
  const both = area([0, 1].map((i) => Math.max(a[i], b[i])).concat([2, 3].map((i) => Math.min(a[i], b[i]))));
  return both / (area(a) + area(b) - both);
}

/** Hands that count: a drag, a click, a turn of the wheel and a key press are one action each. Places are fractions of the page. */
function handsOn(page) {
  let actions = 0;
  const sheet = () =>
    page.$eval('.marks-sheet', (element) => {
      const { left, top, width, height } = element.getBoundingClientRect();
      return { left, top, width, height, bottom: innerHeight };
    });
  /** The page where it lies once it lies still. */
  const still = async () => {
    for (let before = await sheet(); ;) {
      await new Promise((go) => setTimeout(go, 120));
      const now = await sheet();
      if (now.top === before.top && now.left === before.left) return now;
      before = now;
    }
  };
  /** Whole px, as a mouse has them. */
  const at = async ([x, y]) => {
    let { left, top, width, height, bottom } = await still();
    let down = top + y * height;
    if (down < 40 || down > bottom - 40) {
      actions++;
      await page.mouse.move(Math.round(left + width / 2), Math.round(bottom / 2));
      await page.mouse.wheel({ deltaY: Math.round(down - bottom / 2) });
      ({ left, top } = await still());
      down = top + y * height;
    }
    return [Math.round(left + x * width), Math.round(down)];
  };
  const press = async (key) => {
    actions++;
    await page.keyboard.press(key);
  };
  return {
    actions: () => actions,
    async drag(from, to) {
      const [a, b] = [await at(from), await at(to)];
      actions++;
      await page.mouse.move(...a);
      await page.mouse.down();
      await page.mouse.move(...b, { steps: 4 });
      await page.mouse.up();
    },
    async click(place) {
      const to = await at(place);
      actions++;
      await page.mouse.click(...to);
    },
    press,
    /** Arrow keys until the chosen line lies where it should, but for a hair. */
    async level(wanted) {
      for (;;) {
        const { top, height } = await still();
        const chosen = await page.$eval('.marks-system.chosen', (box) => box.getBoundingClientRect().top);
        const off = (chosen - top) / height - wanted;
        if (Math.abs(off) < 0.0015) return;
        await press(off > 0 ? 'ArrowUp' : 'ArrowDown');
      }
    },
  };
}

/** The player wants to box bars by hand: the page is not read for them. */
async function findNothing(driver) {
  const page = await driver.openPage('tunes/index.html');
  await press(page, 'begin-sample');
  await page.waitForSelector('html[data-state="ready"] .stand-rail [data-command="settings"]');
  await press(page, 'settings');
  await page.waitForSelector('.sheet [name="find-bars"]');
  await page.click('.sheet [name="find-bars"]');
  // The page is closed once it is kept.
  await until(
    () => readSettings(page),
    (settings) => settings?.findBars === false,
    'it is kept',
  );
  await page.close();
}

describe.each(briefly('chromium'))('boxing by hand in %s', (name) => {
  let driver;
  beforeAll(async () => {
    driver = await start(name, { size: { width: 1440, height: 900 } });
  });
  afterAll(() => driver.close());

  test('32 bars on eight systems, with sections and twins, in at most 40 actions', async () => {
    await findNothing(driver);
    const page = await driver.openPage('tunes/index.html');
    await page.waitForSelector('html[data-state="ready"]');
    await choose(page, 'input.open-file', sample('aaba.pdf'));
    await page.waitForSelector('.marks-sheet');
    await page.waitForSelector('html[data-state="ready"]');
    const marks = () =>
      readLog(page, hashOf('aaba')).then((log) => log.filter(({ type }) => type === 'marks').at(-1)?.marks);
    const hands = handsOn(page);
    const middle = ({ top, bottom }) => (top + bottom) / 2;

    // The first line is dragged over, and its inner bar lines to where they are.
    const [first, second] = systems;
    const [x0, , , , x1] = linesAcross(first);
    await hands.drag([x0, first.top], [x1, first.bottom]);
    let lines = [0, 1, 2, 3, 4].map((i) => x0 + ((x1 - x0) * i) / 4);
    const mend = async (system) => {
      const wanted = linesAcross(system);
      // A bar line that is off by a hair is left as it is.
      for (const i of [1, 2, 3])
        if (Math.abs(lines[i] - wanted[i]) > 0.01)
          await hands.drag([lines[i], middle(system)], [wanted[i], middle(system)]);
      lines = lines.map((x, i) => (Math.abs(x - wanted[i]) > 0.01 ? wanted[i] : x));
    };
    await mend(first);
    // A click says where the second line is; from there on a key is enough.
    await hands.click([0.5, middle(second)]);
    await mend(second);
    for (const system of systems.slice(2)) {
      await hands.press('Enter');
      await hands.level(system.top);
      await mend(system);
    }

    // S gives a bar the next free letter, then those in use; A says that the section is as the first of its letter.
    const say = async (system, ...keys) => {
      const [{ x0: left, x1: right }] = system.bars;
      await hands.click([(left + right) / 2, middle(system)]);
      for (const key of keys) await hands.press(key);
    };
    await say(systems[0], 's');
    await say(systems[2], 's', 's', 'a');
    await say(systems[4], 's');
    await say(systems[6], 's', 's', 'a');
    expect(hands.actions()).toBeLessThanOrEqual(40);

    const kept = await until(
      marks,
      (now) => JSON.stringify(said(now)) === JSON.stringify(said({ systems })),
      'sections and twins are kept',
    );
    const found = boxes(kept);
    const wanted = boxes({ systems });
    expect(found).toHaveLength(32);
    const worst = Math.min(...found.map((box, i) => overlap(box, wanted[i])));
    console.log(`${name}: ${hands.actions()} actions, worst overlap ${worst.toFixed(3)}`);
    expect(worst).toBeGreaterThanOrEqual(0.75);
    await page.close();
  });
});
