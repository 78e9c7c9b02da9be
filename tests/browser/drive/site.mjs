/** A small site on this machine that has charts to give to whoever is logged in. */
import { createServer } from 'node:http';
import { readFileSync } from 'node:fs';
import { sample } from './index.mjs';

/**
 * Paths: `/` logs in (a cookie that no other site may send) and shows a page; `/NAME.pdf` is that sample, for
 * whoever is logged in; `/page.pdf` answers a web page all the same; anything else is not there.
 * @returns {Promise<{ address: string, pattern: string, close(): Promise<void> }>} `pattern` is for `grantHost`
 */
export async function openSite() {
  const server = createServer((request, response) => {
    const path = new URL(request.url, 'http://localhost').pathname;
    const answer = (status, type, body, headers = {}) =>
      response.writeHead(status, { 'content-type': type, ...headers }).end(body);
    if (path === '/')
      answer(200, 'text/html', '<h1>Charts</h1>', { 'set-cookie': 'player=1; SameSite=Strict; HttpOnly' });
    else if (path === '/page.pdf') answer(200, 'text/html', '<h1>Log in first</h1>');
    else if (!/^\/[a-z-]+\.pdf$/.test(path)) answer(404, 'text/html', '<h1>Not here</h1>');
    else if (!request.headers.cookie?.includes('player=1')) answer(401, 'text/html', '<h1>Log in first</h1>');
    else answer(200, 'application/pdf', readFileSync(sample(path.slice(1))));
  });
  await new Promise((ready) => server.listen(0, '127.0.0.1', ready));
  return {
    address: `http://127.0.0.1:${server.address().port}`,
    pattern: 'http://127.0.0.1/*',
    close: () =>
      new Promise((closed) => {
        server.closeAllConnections();
        server.close(closed);
      }),
  };
}
