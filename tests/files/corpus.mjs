/**
 * Every kind of file that the stand has to open or to refuse. Made when the tests run, none is kept.
 *
 * A case: `make()` gives the bytes; `needs`: the programs it takes; `size`: of the first page in points; `unit`: its UserUnit; `like`: a
 * case whose picture is what this one has to show (where it is damaged, another reader may be at a loss);
 * `line`: it is refused with this message; `password`; `loose`: letters come from another font, so that only where
 * they are can be compared; `blank`: nothing is to be seen; `rough`: poppler knows no
 * UserUnit and cuts the box at whole pixels, so that every line falls beside; `brief`: in every run, not in the long one only.
 */
import { A4, music, operators } from './music.mjs';
import * as fonts from './fonts.mjs';
import * as images from './images.mjs';
import { file, first, packed, pagesFile, stream } from './pdf.mjs';
import { lock, qpdf } from './tools.mjs';

const page = operators(music());
const plain = (options) => pagesFile([{ content: page }], options);
/** A page of music of that size, whose box is written as `box`. */
const sized = (width, height, box, more = {}) => {
  const size = { width, height };
  return pagesFile([{ content: operators(music(size), size), box, ...more }]);
};
const turned = (degrees, size) => ({
  make: () => pagesFile([{ content: page, page: `/Rotate ${degrees}` }]),
  size,
});
const [upright, lying] = [
  [595, 842],
  [842, 595],
];

const scans = {
  'jbig2 arithmetic': { make: images.jbig2Scan(200), brief: true },
  'jbig2 600 dpi': { make: images.jbig2Scan(600) },
  'jbig2 as fax': { make: images.jbig2FaxScan, needs: ['tiffcp'] },
  'fax group 4': { make: images.faxScan('g4', -1), needs: ['tiffcp'], brief: true },
  'fax group 4 600 dpi': { make: images.faxScan('g4', -1, { perInch: 600 }), needs: ['tiffcp'] },
  'fax group 4 black is 1': { make: images.faxScan('g4', -1, { black: true }), needs: ['tiffcp'] },
  'fax group 3': { make: images.faxScan('g3:1d', 0), needs: ['tiffcp'] },
  'fax group 3 two-dimensional': { make: images.faxScan('g3:2d', 1), needs: ['tiffcp'] },
  'one bit': { make: () => images.bitScan() },
  'one bit 600 dpi': { make: () => images.bitScan(600) },
  'one bit inverted': { make: images.invertedScan },
  'one bit as mask': { make: images.maskScan },
  'one bit palette': { make: images.paletteScan },
  'jpeg 2000 without loss': { make: images.jpxScan([]), needs: ['opj_compress'], brief: true },
  'jpeg 2000 with loss': { make: images.jpxScan(['-I', '-r', '20']), needs: ['opj_compress'] },
  'jpeg 2000 tiled': { make: images.jpxScan(['-t', '256,256']), needs: ['opj_compress'] },
  'jpeg 2000 colour': { make: images.jpxColourScan, needs: ['opj_compress'] },
  'jpeg colour': { make: images.jpegScan(false) },
  'jpeg in deflate': { make: images.jpegScan(true) },
  'grey 300 dpi': { make: images.greyScan(300) },
  'grey 600 dpi': { make: images.greyScan(600) },
  'grey 72 dpi in hex': { make: images.hexScan },
  'grey in run lengths': { make: images.runScan },
  'grey sixteen bits': { make: images.deepScan },
  'grey predicted': { make: images.predictedScan },
  'soft mask': { make: images.softMaskScan },
  'inline image': { make: images.inlineScan },
  strips: { make: images.stripScan },
  'colour 600 dpi 104 MB': { make: images.largeScan },
};

const boxes = {
  'crop box': {
    make: () => pagesFile([{ content: page, page: '/CropBox [50 200 545 742]' }]),
    size: [495, 542],
    brief: true,
  },
  'crop box beyond the page': {
    make: () => pagesFile([{ content: page, page: '/CropBox [-100 100 900 2000]' }]),
    size: [595, 742],
  },
  'user unit': {
    make: () => pagesFile([{ content: page, page: '/UserUnit 2' }]),
    size: [1190, 1684],
    unit: 2,
  },
  'turned 90': { ...turned(90, lying), brief: true },
  'turned 180': turned(180, upright),
  'turned 270': turned(270, lying),
  'turned -90': turned(-90, lying),
  'turned 450': turned(450, lying),
  'turned and cropped': {
    make: () => pagesFile([{ content: page, page: '/Rotate 90 /CropBox [50 200 545 742] /UserUnit 1.5' }]),
    size: [813, 742.5],
    unit: 1.5,
    rough: true,
  },
  'mixed sizes': {
    make: () =>
      pagesFile([
        { content: page, box: '[0 0 842 595]' },
        { content: page },
        { content: page, box: '[0 0 300 1200]', page: '/Rotate 90' },
      ]),
    size: lying,
    pages: 3,
  },
  'origin elsewhere': {
    make: () => pagesFile([{ content: `1 0 0 1 -300 -400 cm ${page}`, box: '[-300 -400 295 442]' }]),
    size: upright,
  },
  'corners exchanged': { make: () => pagesFile([{ content: page, box: '[595 842 0 0]' }]), size: upright },
  'size from the tree': {
    make: () =>
      file([
        '<< /Type /Catalog /Pages 2 0 R >>',
        '<< /Type /Pages /Kids [3 0 R] /Count 1 /MediaBox [0 0 595 842] /Rotate 90 >>',
        '<< /Type /Page /Parent 2 0 R /Contents 4 0 R /Resources << >> >>',
        stream(page),
      ]),
    size: lying,
  },
  poster: { make: () => sized(14400, 14400, '[0 0 14400 14400]'), size: [14400, 14400] },
  stamp: { make: () => sized(150, 212, '[0 0 150 212]'), size: [150, 212] },
  ribbon: { make: () => sized(200, 4000, '[0 0 200 4000]'), size: [200, 4000] },
  // Without a size worth the name pdf.js takes a sheet of US letter; another reader may not draw it at all.
  'no size': { make: () => pagesFile([{ content: page, box: '' }]), size: [612, 792], like: 'letter' },
  'zero size': {
    make: () => pagesFile([{ content: page, box: '[0 0 0 0]' }]),
    size: [612, 792],
    like: 'letter',
  },
  letter: { make: () => pagesFile([{ content: page, box: '[0 0 612 792]' }]), size: [612, 792] },
};

const lettering = {
  'font embedded truetype': { make: () => fonts.trueType(), brief: true },
  'font embedded compact': { make: fonts.compact },
  'font by number, no letters': { make: fonts.byNumber, brief: true },
  'font drawn (type 3)': { make: fonts.drawn },
  'font standard sans': { make: () => fonts.standard('Helvetica'), loose: true },
  'font standard serif': { make: () => fonts.standard('Times-BoldItalic'), loose: true },
  'font standard typewriter': { make: () => fonts.standard('Courier'), loose: true },
  'font standard symbol': { make: () => fonts.standard('Symbol'), loose: true },
  'font missing': { make: fonts.missing, loose: true },
  'font damaged': { make: () => fonts.trueType(Buffer.from('no font at all')), loose: true },
  'font japanese, not embedded': { make: fonts.japanese, loose: true },
};

/** Everything behind `mark` is thrown away. */
const cut = (data, share) => data.subarray(0, Math.floor(data.length * share));
const text = (data) => data.toString('latin1');
const raw = (data) => Buffer.from(data, 'latin1');
const objectStreams = () => qpdf(plain(), '--object-streams=generate');
const update = (data) => {
  const at = text(data).lastIndexOf('startxref\n') + 10;
  const previous = parseInt(text(data).slice(at), 10);
  const changed = `4 0 obj\n${text(stream(operators(music(A4, 99))))}\nendobj\n`;
  const start = data.length;
  return Buffer.concat([
    data,
    raw(
      `${changed}xref\n4 1\n${String(start).padStart(10, '0')} 00000 n \n` +
        `trailer\n<< /Size 5 /Root 1 0 R /Prev ${previous} >>\nstartxref\n${start + changed.length}\n%%EOF\n`,
    ),
  ]);
};
const book = (count) =>
  pagesFile(
    Array.from({ length: count }, (_, index) => ({
      content: packed(operators(music(A4, index + 1))),
      box: index % 3 === 2 ? '[0 0 612 792]' : '[0 0 595 842]',
    })),
  );

const structure = {
  plain: { make: () => plain(), brief: true },
  'object streams': { make: objectStreams, needs: ['qpdf'], like: 'plain' },
  linearized: { make: () => qpdf(plain(), '--linearize'), needs: ['qpdf'] },
  'changed afterwards': { make: () => update(plain()), brief: true },
  'table at wrong places': {
    make: () => raw(text(plain()).replace(/\d{10} 00000 n/g, '0000000007 00000 n')),
    like: 'plain',
    brief: true,
  },
  // Without a trailer nothing says which object is the root: pdf.js looks for no other.
  'no table, no trailer': {
    make: () => raw(text(plain()).replace(/xref\n[^]*/, '')),
    line: 'stand_broken_pdf',
  },
  'no start of the table': {
    make: () => raw(text(plain()).replace(/startxref\n[^]*/, '')),
    like: 'plain',
  },
  'wrong start of the table': {
    make: () => raw(text(plain()).replace(/startxref\n\d+/, 'startxref\n99999999')),
    like: 'plain',
  },
  'no end mark': { make: () => raw(text(plain()).replace('%%EOF', '')), like: 'plain' },
  'ends in the table': { make: () => cut(plain(), 0.995), line: 'stand_broken_pdf' },
  'junk before the header': { make: () => plain({ before: 'x'.repeat(500) }), like: 'plain' },
  'junk behind the end': { make: () => Buffer.concat([plain(), Buffer.alloc(3000, 'z')]), like: 'plain' },
  'wrong length of a stream': {
    make: () => raw(text(plain()).replace(/\/Length \d+/, '/Length 12')),
    like: 'plain',
  },
  'content in two parts': {
    make: () => {
      const middle = page.indexOf(' re f', page.length / 2);
      return pagesFile([{ content: page.slice(0, middle), page: `/Contents [4 0 R ${first(1)} 0 R]` }], {
        more: [stream(page.slice(middle))],
      });
    },
    like: 'plain',
  },
  'ends in the middle': { make: () => cut(plain(), 0.5), line: 'stand_broken_pdf' },
  'object stream damaged': {
    make: () => {
      const data = Buffer.from(objectStreams());
      const at = data.indexOf('stream', data.indexOf('/ObjStm'));
      data.fill(0x41, at + 10, at + 60);
      return data;
    },
    needs: ['qpdf'],
    line: 'stand_broken_pdf',
  },
  'page tree in a circle': {
    make: () =>
      file(['<< /Type /Catalog /Pages 2 0 R >>', '<< /Type /Pages /Kids [2 0 R] /Count 1 /Parent 2 0 R >>']),
    line: 'stand_broken_pdf',
  },
  'no pages': { make: () => pagesFile([]), line: 'stand_empty_pdf' },
  'a page with nothing on it': { make: () => pagesFile([{}]), blank: true },
  'a page without content': {
    make: () =>
      file([
        '<< /Type /Catalog /Pages 2 0 R >>',
        '<< /Type /Pages /Kids [3 0 R] /Count 1 >>',
        '<< /Type /Page /Parent 2 0 R /MediaBox [0 0 595 842] >>',
      ]),
    blank: true,
  },
  'content that is no content': {
    make: () => pagesFile([{ content: `q Q Q Q foo 1 2 3 bar ${page}` }]),
    like: 'plain',
  },
  'book of 300 pages': { make: () => book(300), pages: 300 },
  'book of 1000 pages': { make: () => book(1000), pages: 1000 },
};

const locked = {
  'locked rc4 40': { make: () => lock(plain(), 'tune', 40), needs: ['qpdf'], password: 'tune' },
  'locked rc4 128': { make: () => lock(plain(), 'tune', 128, false), needs: ['qpdf'], password: 'tune' },
  'locked aes 128': { make: () => lock(plain(), 'tune', 128, true), needs: ['qpdf'], password: 'tune' },
  'locked aes 256': {
    make: () => lock(plain(), 'tüne', 256),
    needs: ['qpdf'],
    password: 'tüne',
    brief: true,
  },
  'owner only rc4': { make: () => lock(plain(), '', 128, false), needs: ['qpdf'] },
  'owner only aes 256': { make: () => lock(plain(), '', 256), needs: ['qpdf'] },
};

const annotated = (annotations, more = [], catalog = '') => {
  const numbers = annotations.map((_, index) => `${first(1) + index} 0 R`).join(' ');
  return pagesFile([{ content: page, page: `/Annots [${numbers}]` }], {
    more: [...annotations, ...more],
    catalog,
  });
};
const appearance = (number) => `/AP << /N ${number} 0 R >>`;
const drawnForm = stream(
  '0.2 0.4 0.9 rg 0 0 200 40 re f',
  '/Type /XObject /Subtype /Form /BBox [0 0 200 40]',
);
/** What a script would do if one ever ran: leave a trace that the test looks for. */
const script = '(globalThis.scriptRan = true; document.title = "ran"; app.alert\\("ran"\\);)';
const action = `<< /S /JavaScript /JS ${script} >>`;

const acting = {
  'form filled in': {
    make: () =>
      annotated(
        [
          `<< /Type /Annot /Subtype /Widget /FT /Tx /T (a) /V (text) /Rect [100 740 300 780] /F 4 ${appearance(first(1) + 1)} >>`,
        ],
        [drawnForm],
        `/AcroForm << /Fields [${first(1)} 0 R] >>`,
      ),
    brief: true,
  },
  annotations: {
    make: () =>
      annotated(
        [
          `<< /Type /Annot /Subtype /Stamp /Rect [100 740 300 780] /F 4 ${appearance(first(1) + 2)} >>`,
          `<< /Type /Annot /Subtype /Link /Rect [50 50 545 700] /Border [0 0 0] /A << /S /URI /URI (https://annotation.invalid/) >> >>`,
        ],
        [drawnForm],
      ),
    acts: true,
  },
  'scripts everywhere': {
    make: () =>
      annotated(
        [
          `<< /Type /Annot /Subtype /Widget /FT /Tx /T (a) /Rect [100 740 300 780] /F 4 ${appearance(first(1) + 1)} ` +
            `/A ${action} /AA << /E ${action} /PO ${action} /PV ${action} /Fo ${action} /D ${action} >> >>`,
        ],
        [drawnForm],
        `/OpenAction ${action} /AA << /WC ${action} /WS ${action} >> /AcroForm << /Fields [${first(1)} 0 R] >> ` +
          `/Names << /JavaScript << /Names [(start) ${action}] >> >>`,
      ),
    acts: true,
    brief: true,
  },
  'program to start': {
    make: () => plain({ catalog: '/OpenAction << /S /Launch /F (calculator) >>' }),
    acts: true,
  },
  'address to go to': {
    make: () => plain({ catalog: '/OpenAction << /S /URI /URI (https://action.invalid/) >>' }),
    acts: true,
  },
  'file attached': {
    make: () =>
      plain({
        more: [
          `<< /Type /Filespec /F (notes.txt) /EF << /F ${first(1) + 1} 0 R >> >>`,
          stream('Meet at eight.', '/Type /EmbeddedFile'),
        ],
        catalog: `/Names << /EmbeddedFiles << /Names [(notes.txt) ${first(1)} 0 R] >> >>`,
      }),
  },
  'form in xml': {
    make: () =>
      plain({
        more: [stream('<xdp:xdp xmlns:xdp="http://ns.adobe.com/xdp/"><template/></xdp:xdp>')],
        catalog: `/AcroForm << /Fields [] /XFA ${first(1)} 0 R >>`,
      }),
  },
  'layer switched off': {
    make: () =>
      pagesFile(
        [
          {
            content: `${page}\n/OC /L BDC 0 0 595 842 re f EMC`,
            resources: `/Properties << /L ${first(1)} 0 R >>`,
          },
        ],
        {
          more: ['<< /Type /OCG /Name (hidden) >>'],
          catalog: `/OCProperties << /OCGs [${first(1)} 0 R] /D << /OFF [${first(1)} 0 R] >> >>`,
        },
      ),
    like: 'plain',
  },
};

const others = {
  'a web page': {
    make: () => raw('<!doctype html><title>Log in</title><h1>Log in</h1>'),
    line: 'problem_not_pdf',
  },
  'a picture': {
    make: () => Buffer.concat([Buffer.from('89504e470d0a1a0a', 'hex'), Buffer.alloc(2000)]),
    line: 'problem_not_pdf',
  },
  // A save is a zip too.
  'a zip': { make: () => Buffer.concat([raw('PK\x03\x04'), Buffer.alloc(2000)]), line: 'problem_not_a_save' },
  nothing: { make: () => Buffer.alloc(0), line: 'problem_empty' },
  'a header only': { make: () => raw('%PDF-1.7\n'), line: 'stand_broken_pdf' },
  'a header and zeros': {
    make: () => Buffer.concat([raw('%PDF-1.7\n'), Buffer.alloc(50_000)]),
    line: 'stand_broken_pdf',
  },
};

/** Ten forms, each drawing the one before it ten times. */
const multiplying = () => hanging([0], 1);

/** A file of `count` pages of music, some of which (from 0) draw for ever: each form draws another ten times. */
export function hanging(pages, count = 3) {
  const forms = Array.from({ length: 12 }, (_, i) =>
    i === 0
      ? stream('0 0 1 1 re f', '/Type /XObject /Subtype /Form /BBox [0 0 595 842]')
      : stream(
          Array(10).fill('/N Do').join(' '),
          `/Type /XObject /Subtype /Form /BBox [0 0 595 842] /Resources << /XObject << /N ${first(count) + i - 1} 0 R >> >>`,
        ),
  );
  const resources = `/XObject << /N ${first(count) + 11} 0 R >>`;
  const all = Array.from({ length: count }, (_, i) =>
    pages.includes(i) ? { content: '/N Do', resources } : { content: page },
  );
  return pagesFile(all, { more: forms });
}

const hostile = {
  'forms that multiply': { make: multiplying, line: 'stand_too_slow' },
  'form that draws itself': {
    make: () =>
      pagesFile([{ content: `${page}\n/N Do`, resources: `/XObject << /N ${first(1)} 0 R >>` }], {
        more: [
          stream(
            '/N Do',
            `/Type /XObject /Subtype /Form /BBox [0 0 9 9] /Resources << /XObject << /N ${first(1)} 0 R >> >>`,
          ),
        ],
      }),
    like: 'plain',
  },
  'picture of 10,000 million pixels': {
    make: () =>
      pagesFile(
        [{ content: `${page}\nq 9 0 0 9 0 0 cm /I Do Q`, resources: `/XObject << /I ${first(1)} 0 R >>` }],
        {
          more: [
            packed(
              Buffer.alloc(100),
              '/Type /XObject /Subtype /Image /Width 100000 /Height 100000 /ColorSpace /DeviceGray /BitsPerComponent 8',
            ),
          ],
        },
      ),
    like: 'plain',
  },
  'content of 300 MB of nothing': {
    make: () =>
      pagesFile([{ content: packed(Buffer.concat([raw(page), Buffer.alloc(300 * 2 ** 20, ' ')])) }]),
    like: 'plain',
  },
  'arrays in arrays': {
    make: () => pagesFile([{ content: `${'['.repeat(100_000)} ${page}` }]),
    answers: true,
  },
};

export const corpus = Object.entries({
  ...structure,
  ...scans,
  ...boxes,
  ...lettering,
  ...locked,
  ...acting,
  ...others,
  ...hostile,
}).map(([name, each]) => ({ name, needs: [], ...each }));
