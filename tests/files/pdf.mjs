/** Writes PDFs by hand, object by object, so that a test can have them as odd as it wants. */
import { deflateSync } from 'node:zlib';

const bytes = (text) => Buffer.from(text, 'latin1');

/** A stream object; `dict` is what stands in its dictionary beside the length. */
export const stream = (data, dict = '') => {
  const body = typeof data === 'string' ? bytes(data) : data;
  return Buffer.concat([bytes(`<< ${dict} /Length ${body.length} >>\nstream\n`), body, bytes('\nendstream')]);
};

/** The same, deflated. */
export const packed = (data, dict = '') => stream(deflateSync(data), `${dict} /Filter /FlateDecode`);

/**
 * A file of these objects: the first is object 1 and has to be the catalog.
 * @param {(string | Buffer)[]} objects
 * @param {{ trailer?: string, before?: string }} [options] `before` stands before the header
 */
export function file(objects, { trailer = '', before = '' } = {}) {
  const parts = [bytes(`${before}%PDF-1.7\n%\xe2\xe3\xcf\xd3\n`)];
  const offsets = [];
  let at = parts[0].length - before.length;
  for (const [index, object] of objects.entries()) {
    const body = Buffer.concat([
      bytes(`${index + 1} 0 obj\n`),
      typeof object === 'string' ? bytes(object) : object,
      bytes('\nendobj\n'),
    ]);
    offsets.push(at);
    at += body.length;
    parts.push(body);
  }
  const rows = offsets.map((offset) => `${String(offset).padStart(10, '0')} 00000 n \n`).join('');
  const size = objects.length + 1;
  parts.push(
    bytes(
      `xref\n0 ${size}\n0000000000 65535 f \n${rows}trailer\n<< /Size ${size} /Root 1 0 R ${trailer} >>\n` +
        `startxref\n${at}\n%%EOF\n`,
    ),
  );
  return Buffer.concat(parts);
}

/**
 * A file of pages.
 * @param {{ content?: string | Buffer, box?: string, page?: string, resources?: string }[]} pages `box` in default
 * user space units; `page`: more of the page's dictionary
 * @param {{ more?: (string | Buffer)[], catalog?: string, trailer?: string, before?: string }} [options] `more`:
 * objects that begin at number `first(pages)`
 */
export function pagesFile(pages, { more = [], catalog = '', ...options } = {}) {
  const kids = pages.map((_, index) => `${3 + 2 * index} 0 R`).join(' ');
  const objects = [
    `<< /Type /Catalog /Pages 2 0 R ${catalog} >>`,
    `<< /Type /Pages /Kids [${kids}] /Count ${pages.length} >>`,
  ];
  for (const [index, { content = '', box = '[0 0 595 842]', page = '', resources = '' }] of pages.entries()) {
    const media = box && `/MediaBox ${box}`;
    objects.push(
      `<< /Type /Page /Parent 2 0 R ${media} /Resources << ${resources} >> /Contents ${4 + 2 * index} 0 R ${page} >>`,
      typeof content === 'string' ? stream(content) : content,
    );
  }
  return file([...objects, ...more], options);
}

/** The number of the first of `more` behind so many pages. */
export const first = (pages) => 3 + 2 * pages;

/** A page that is one picture, drawn over all of it. `image` is the picture's stream. */
export const picturePage = (image, { width = 595, height = 842, more = [], ...rest } = {}) =>
  pagesFile(
    [
      {
        content: `q ${width} 0 0 ${height} 0 0 cm /I Do Q`,
        box: `[0 0 ${width} ${height}]`,
        resources: `/XObject << /I ${first(1)} 0 R >>`,
      },
    ],
    { more: [image, ...more], ...rest },
  );
