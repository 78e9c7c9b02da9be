import { existsSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { createServer } from 'node:http';
import { extname, join, normalize, resolve } from 'node:path';
import type { AddressInfo } from 'node:net';
import puppeteer, { type Browser, type Page } from 'puppeteer-core';
import { build } from 'vite';
import type { Harness } from './harness/harness.tsx';

export type { Harness };

const here = import.meta.dirname;
const built = resolve(here, '../../../node_modules/.cache/view-harness');
const types: Record<string, string> = {
  '.html': 'text/html',
  '.js': 'text/javascript',
  '.mjs': 'text/javascript',
  '.css': 'text/css',
  '.wasm': 'application/wasm',
  '.pdf': 'application/pdf',
};
/** As in the extension's manifest and its pages. */
const policy = "script-src 'self' 'wasm-unsafe-eval'; object-src 'self'; connect-src 'self' blob:";

/** Builds the harness and serves it together with PDFs from memory. */
export async function serveHarness(pdfs: ReadonlyMap<string, Uint8Array>) {
  process.env.HARNESS_OUT = built;
  await build({ configFile: resolve(here, 'harness/vite.config.ts') });
  const server = createServer((request, response) => {
    const path = normalize(decodeURIComponent(new URL(request.url!, 'http://x').pathname));
    const pdf = pdfs.get(path.slice('/pdf/'.length));
    const file = join(built, path === '/' ? 'index.html' : path);
    const head = (status: number) =>
      response.writeHead(status, {
        'content-type':
          types[extname(path.startsWith('/pdf/') ? '.pdf' : file)] ?? 'application/octet-stream',
        'content-security-policy': policy,
      });
    if (path.startsWith('/pdf/') && pdf) head(200).end(pdf);
    else if (existsSync(file)) void readFile(file).then((body) => head(200).end(body));
    else head(404).end();
  });
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', () => done()));
  const address = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
  return { address, close: () => server.close() };
}

export type BrowserName = 'chromium' | 'firefox';

export async function launch(name: BrowserName): Promise<Browser> {
  const executablePath =
    name === 'chromium'
      ? (process.env.CHROMIUM ?? '/usr/bin/chromium')
      : (process.env.FIREFOX ?? '/usr/bin/firefox-esr');
  return name === 'chromium'
    ? puppeteer.launch({
        executablePath,
        headless: true,
        args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--hide-scrollbars'],
      })
    : puppeteer.launch({ browser: 'firefox', executablePath, headless: true });
}

/** Until nothing has changed in the view for a while: pdf.js has drawn what it wanted to. */
export async function settled(page: Page, quiet = 150): Promise<void> {
  await page.evaluate(async (pause) => {
    const view = document.querySelector('.view')!;
    let last = performance.now();
    const watch = new MutationObserver(() => (last = performance.now()));
    watch.observe(view, { childList: true, subtree: true, attributes: true });
    while (performance.now() - last < pause) await new Promise((done) => setTimeout(done, 25));
    watch.disconnect();
    await new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
  }, quiet);
}
