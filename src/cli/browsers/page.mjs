/** What is said to the extension's pages, the same in both browsers: read the stand, press a command, choose a file. */
import { readFileSync } from 'node:fs';
import { basename } from 'node:path';

/** Firefox never answers a question that was on its way when the page went to another address: it is asked again. */
function soon(answer) {
  let timer;
  const late = new Promise((_, fail) => (timer = setTimeout(() => fail(new Error('no answer')), 3000)));
  return Promise.race([answer, late]).finally(() => clearTimeout(timer));
}

/**
 * Reads until it is as wanted, and fails with what it read last.
 * @template T
 * @param {() => Promise<T>} read
 * @param {(value: T) => boolean} wanted
 * @param {string} what  said when time is up
 */
export async function until(read, wanted, what, seconds = 20) {
  const end = performance.now() + 1000 * seconds;
  let last;
  for (;;) {
    try {
      last = await soon(read());
      if (wanted(last)) return last;
    } catch (error) {
      // A page that is being loaded anew has no context for a moment.
      last = error instanceof Error ? error.message : error;
    }
    if (performance.now() > end)
      throw new Error(`${what}: not within ${seconds} s; read ${JSON.stringify(last)}`);
    await new Promise((go) => setTimeout(go, 30));
  }
}

/** What the stand shows now. Counts are numbers, what is not there is null. */
export const readStand = (page) =>
  page.evaluate(() => {
    const data = (selector, key) => document.querySelector(selector)?.dataset[key] ?? null;
    const count = (selector, key) => {
      const value = data(selector, key);
      return value === null ? null : Number(value);
    };
    return {
      state: document.documentElement.dataset.state ?? null,
      phase: data('[data-phase]', 'phase'),
      tight: count('[data-streak]', 'tight'),
      loose: count('[data-streak]', 'loose'),
      places: count('[data-streak]', 'places'),
      span: data('[data-span]', 'span'),
      from: count('[data-span]', 'from'),
      to: count('[data-span]', 'to'),
      tempo: count('[data-tempo]', 'tempo'),
      warnings: [...document.querySelectorAll('.warning')].map((line) => line.textContent.trim()),
    };
  });

/** Waits until the stand shows all of these, e.g. `{ phase: 'playing', tight: 3 }`. */
export const shows = (page, wanted, seconds) =>
  until(
    () => readStand(page),
    (now) =>
      Object.entries(wanted).every(([key, value]) =>
        Array.isArray(value) ? value.includes(now[key]) : now[key] === value,
      ),
    `the stand shows ${JSON.stringify(wanted)}`,
    seconds,
  );

/** Presses the button of a command as a pointer would. */
export async function press(page, command) {
  await page.waitForSelector(`[data-command="${command}"]`);
  await page.click(`[data-command="${command}"]`);
}

/** Lets a pass go by unanswered, then says that it was clean; `count` times. */
export async function playClean(page, count) {
  for (let i = 0; i < count; i++) {
    const { tight } = await readStand(page);
    await shows(page, { loose: 1 }, 30);
    await press(page, 'clean');
    // The last place's knot is gone as soon as it is tied: then the next step's rope is empty.
    await until(
      () => readStand(page),
      (now) => now.loose === 0 && (now.tight === tight + 1 || (now.tight === 0 && tight + 1 === now.places)),
      `knot ${tight + 1} is tight`,
    );
  }
}

/** The first drill ever shows a word of caution in the rail; it is read and closed. */
export async function closeCaution(page) {
  const caution = '[data-command="caution-ok"]';
  // It comes with the stand's first drawing.
  await page.evaluate(() => new Promise((go) => requestAnimationFrame(() => requestAnimationFrame(go))));
  await (await page.$(caution))?.click();
  await page.waitForFunction((button) => !document.querySelector(button), {}, caution);
}

/** Puts files into a file input as the picker would. `files`: paths, or `{ name, bytes, type }`. */
export async function choose(page, selector, ...files) {
  const given = files.map((file) => {
    const { name, bytes, type } =
      typeof file === 'string'
        ? {
            name: basename(file),
            bytes: readFileSync(file),
            type: file.endsWith('.pdf') ? 'application/pdf' : '',
          }
        : file;
    return { name, type: type ?? '', base64: Buffer.from(bytes).toString('base64') };
  });
  await page.waitForSelector(selector);
  await page.evaluate(
    (where, list) => {
      const transfer = new DataTransfer();
      for (const { name, type, base64 } of list) {
        const bytes = Uint8Array.from(atob(base64), (c) => c.charCodeAt(0));
        transfer.items.add(new File([bytes], name, { type }));
      }
      const input = document.querySelector(where);
      input.files = transfer.files;
      input.dispatchEvent(new Event('change', { bubbles: true }));
    },
    selector,
    given,
  );
}
