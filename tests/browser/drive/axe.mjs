/** What axe-core finds on a page, in both themes. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { expect } from 'vitest';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** Serious findings on the page as it is, one line each. */
async function findings(page) {
  await page.evaluate(axe);
  const { violations } = await page.evaluate(() =>
    globalThis.axe.run(document, { resultTypes: ['violations'] }),
  );
  return violations
    .filter(({ impact }) => impact === 'serious' || impact === 'critical')
    .flatMap(({ id, nodes }) =>
      nodes.map(({ target, failureSummary }) => `${id} ${target}: ${failureSummary}`),
    );
}

/** Fails with what is found; `what` names the state of the page. */
export async function checkAxe(page, what) {
  for (const theme of ['day', 'stage']) {
    await page.evaluate((to) => (document.documentElement.dataset.theme = to), theme);
    // Colours may fade over.
    await new Promise((go) => setTimeout(go, 300));
    expect({ what, theme, found: await findings(page) }).toEqual({ what, theme, found: [] });
  }
}
