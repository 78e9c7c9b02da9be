/** A site on this machine that answers as sites do: by cookie, by detour, mislabelled, slowly, not to the end. */
import { createServer } from 'node:http';
import { readFileSync } from 'node:fs';
import { sample } from './index.mjs';

const pdf = { 'content-type': 'application/pdf' };

/** Sends the body again and again, a hundred times in all it says, for as long as somebody listens. */
function drip(response, body) {
  response.writeHead(200, { ...pdf, 'content-length': 100 * body.length });
  const timer = setInterval(() => response.write(body), 300);
  response.on('close', () => clearInterval(timer));
}

/**
 * `/WAY/NAME.pdf` gives the sample of that name in that way; `/links` is a page with a link to each of `ways`.
 * Two names lead here, which a browser takes for two hosts: `address` and `other`.
 */
export const ways = {
  plain: ({ give }) => give(200, pdf),
  'by-cookie': ({ request, give, refuse }) =>
    request.headers.cookie?.includes('player=1') ? give(200, pdf) : refuse(401),
  'no-ranges': ({ request, give, refuse }) => (request.headers.range ? refuse(416) : give(200, pdf)),
  'as-text': ({ give }) => give(200, { 'content-type': 'text/plain' }),
  'as-nothing': ({ give }) => give(200, {}),
  'as-download': ({ give, name }) =>
    give(200, { ...pdf, 'content-disposition': `attachment; filename="${name} part.pdf"` }),
  moved: ({ response, name }) => response.writeHead(302, { location: `/plain/${name}.pdf` }).end(),
  away: ({ response, name, other }) =>
    response.writeHead(302, { location: `${other}/plain/${name}.pdf` }).end(),
  // A host that gives to everybody: no browser would stop it, but nobody has granted it.
  'away-open': ({ response, request, name, other }) =>
    response
      .writeHead(302, {
        location: `${other}/open/${name}.pdf`,
        'access-control-allow-origin': request.headers.origin ?? '*',
        'access-control-allow-credentials': 'true',
      })
      .end(),
  open: ({ request, give }) =>
    give(200, {
      ...pdf,
      'access-control-allow-origin': request.headers.origin ?? '*',
      'access-control-allow-credentials': 'true',
    }),
  slow: ({ response, body }) => {
    response.writeHead(200, { ...pdf, 'content-length': body.length });
    const part = Math.ceil(body.length / 8);
    let at = 0;
    const timer = setInterval(() => {
      response.write(body.subarray(at, (at += part)));
      if (at < body.length) return;
      clearInterval(timer);
      response.end();
    }, 250);
  },
  endless: ({ response, body }) => drip(response, body),
  // At once, until the test says that the site has grown slow.
  tired: ({ response, body, give, slow }) =>
    slow ? drip(response, body) : give(200, { ...pdf, 'cache-control': 'no-store' }),
  'broken-off': ({ response, body }) => {
    response.writeHead(200, { ...pdf, 'content-length': body.length });
    response.write(body.subarray(0, body.length / 2), () => setTimeout(() => response.destroy(), 200));
  },
  silent: ({ response, body }) => {
    response.writeHead(200, { ...pdf, 'content-length': body.length });
    response.write(body.subarray(0, 2000));
  },
};

/**
 * @returns {Promise<{ address: string, other: string, patterns: string[], going: number, slow: boolean, files: Record<string, Buffer>, close(): Promise<void> }>}
 * `going`: answers that somebody still listens to; `slow` may be set, for the way `tired`; `files`: what is given under other names than the samples'
 */
export async function openSources() {
  let port = 0;
  const site = { going: 0, slow: false, files: {} };
  const server = createServer((request, response) => {
    site.going++;
    response.on('close', () => site.going--);
    const url = new URL(request.url, 'http://localhost');
    const refuse = (status) =>
      response.writeHead(status, { 'content-type': 'text/html' }).end('<h1>Not for you</h1>');
    if (url.pathname === '/links') {
      const link = (way) => `<p><a id="${way}" href="/${way}/waltz.pdf">${way}</a></p>`;
      response
        .writeHead(200, { 'content-type': 'text/html', 'set-cookie': 'player=1; SameSite=Strict; HttpOnly' })
        .end(`<title>Charts</title>${Object.keys(ways).map(link).join('')}`);
      return;
    }
    // An address of a script, which only what it sends calls a PDF.
    const [, way, name] = /^\/([a-z-]+)\/([a-z-]+)\.pdf$/.exec(url.pathname) ?? [];
    const script = /^\/chart\.(?:php|asp)$/.test(url.pathname) ? url.searchParams.get('id') : null;
    if (script) {
      response
        .writeHead(200, { ...pdf, 'content-disposition': `inline; filename="${script}.pdf"` })
        .end(readFileSync(sample(`${script}.pdf`)));
      return;
    }
    if (!ways[way]) {
      refuse(404);
      return;
    }
    const body = site.files[name] ?? readFileSync(sample(`${name}.pdf`));
    const give = (status, headers) => response.writeHead(status, headers).end(body);
    ways[way]({
      request,
      response,
      name,
      body,
      give,
      refuse,
      slow: site.slow,
      other: `http://localhost:${port}`,
    });
  });
  await new Promise((ready) => server.listen(0, ready));
  port = server.address().port;
  return Object.assign(site, {
    address: `http://127.0.0.1:${port}`,
    other: `http://localhost:${port}`,
    patterns: ['http://127.0.0.1/*', 'http://localhost/*'],
    close: () =>
      new Promise((closed) => {
        server.closeAllConnections();
        server.close(closed);
      }),
  });
}
