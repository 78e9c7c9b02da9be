/** Scans of one page of music, in every coding that a scanner or a printer driver may choose. */
import { createCanvas } from '@napi-rs/canvas';
import { deflateSync } from 'node:zlib';
import { jbig2, jbig2OfG4 } from './jbig2.mjs';
import { A4, bits, music, pixels } from './music.mjs';
import { packed, pagesFile, first, picturePage, stream } from './pdf.mjs';
import { fax, jpx } from './tools.mjs';

const cache = new Map();
/** The page at that resolution. */
export function scan(perInch) {
  if (!cache.has(perInch)) cache.set(perInch, pixels(music(), perInch));
  return cache.get(perInch);
}

const dict = ({ width, height }, space = '/DeviceGray', depth = 8) =>
  `/Type /XObject /Subtype /Image /Width ${width} /Height ${height} /ColorSpace ${space} /BitsPerComponent ${depth}`;
const one = (size, filter = '', space = '/DeviceGray') => `${dict(size, space, 1)} ${filter}`;

/** Ink a dark blue, paper a warm yellow, three bytes a pixel; `noise` in levels, as a scanner's. */
function coloured({ width, height, data }, noise = 0) {
  const out = Buffer.alloc(3 * width * height);
  let state = 7;
  for (let i = 0, j = 0; i < data.length; i++, j += 3) {
    const [r, g, b] = data[i] < 128 ? [30, 30, 90] : [240, 230, 205];
    state = (state * 1664525 + 1013904223) >>> 0;
    const off = noise && (state >>> 24) % noise;
    out[j] = r + off;
    out[j + 1] = g + off;
    out[j + 2] = b + off;
  }
  return out;
}

const image = (data, dictionary) => picturePage(stream(data, dictionary));

export const jbig2Scan = (perInch) => () =>
  image(jbig2(scan(perInch)), one(scan(perInch), '/Filter /JBIG2Decode'));

export const jbig2FaxScan = () => {
  const page = scan(200);
  return image(jbig2OfG4(page, fax(page, bits(page), 'g4')), one(page, '/Filter /JBIG2Decode'));
};

export const faxScan =
  (how, k, { perInch = 200, black = false } = {}) =>
  () => {
    const page = scan(perInch);
    const { width, height } = page;
    const decode = black ? '/Decode [1 0]' : '';
    const parms = `/DecodeParms << /K ${k} /Columns ${width} /Rows ${height} ${black ? '/BlackIs1 true' : ''} >>`;
    return image(fax(page, bits(page), how), one(page, `/Filter /CCITTFaxDecode ${parms} ${decode}`));
  };

export const bitScan = (perInch = 200) => picturePage(packed(bits(scan(perInch), 0), one(scan(perInch))));
export const invertedScan = () => picturePage(packed(bits(scan(200), 1), `${one(scan(200))} /Decode [1 0]`));
export const maskScan = () => {
  const { width, height } = scan(200);
  const dictionary = `/Type /XObject /Subtype /Image /Width ${width} /Height ${height} /ImageMask true`;
  return picturePage(packed(bits(scan(200), 0), dictionary));
};
export const paletteScan = () =>
  picturePage(packed(bits(scan(150), 1), one(scan(150), '', '[/Indexed /DeviceRGB 1 <F0E6CD1E1E5A>]')));

export const jpxScan = (args) => () => {
  const page = scan(150);
  // Its own header says what its pixels are.
  const { width, height } = page;
  const dictionary = `/Type /XObject /Subtype /Image /Width ${width} /Height ${height} /Filter /JPXDecode`;
  return image(jpx(page, page.data, { args }), dictionary);
};
export const jpxColourScan = () => {
  const page = scan(150);
  const data = jpx(page, coloured(page), { colour: true, args: ['-r', '25'] });
  return image(data, `${dict(page, '/DeviceRGB')} /Filter /JPXDecode`);
};

/** A picture of three bytes a pixel as a JPEG. */
export function jpeg({ width, height }, rgb, quality = 85) {
  const canvas = createCanvas(width, height);
  const context = canvas.getContext('2d');
  const picture = context.createImageData(width, height);
  for (let i = 0, j = 0; j < rgb.length; i += 4, j += 3)
    picture.data.set([rgb[j], rgb[j + 1], rgb[j + 2], 255], i);
  context.putImageData(picture, 0, 0);
  return canvas.toBuffer('image/jpeg', quality);
}
export const jpegScan = (chained) => () => {
  const page = scan(150);
  const data = jpeg(page, coloured(page, 12));
  return chained
    ? image(deflateSync(data), `${dict(page, '/DeviceRGB')} /Filter [/FlateDecode /DCTDecode]`)
    : image(data, `${dict(page, '/DeviceRGB')} /Filter /DCTDecode`);
};

export const greyScan = (perInch) => () => picturePage(packed(scan(perInch).data, dict(scan(perInch))));
export const hexScan = () =>
  image(`${scan(72).data.toString('hex')}>`, `${dict(scan(72))} /Interpolate true /Filter /ASCIIHexDecode`);
export const runScan = () => {
  const { data } = scan(100);
  const out = [];
  for (let at = 0; at < data.length;) {
    let count = 1;
    while (count < 128 && data[at + count] === data[at]) count++;
    if (count > 1) out.push(257 - count, data[at]);
    else out.push(0, data[at]);
    at += count;
  }
  return image(Buffer.from([...out, 128]), `${dict(scan(100))} /Filter /RunLengthDecode`);
};
export const deepScan = () => {
  const page = scan(100);
  const deep = Buffer.alloc(2 * page.data.length);
  page.data.forEach((value, i) => deep.writeUInt16BE(257 * value, 2 * i));
  return picturePage(packed(deep, dict(page, '/DeviceGray', 16)));
};
/** Rows that say how they differ from the one above (PNG's filter 2). */
export const predictedScan = () => {
  const { width, height, data } = scan(150);
  const rows = Buffer.alloc((width + 1) * height);
  for (let y = 0; y < height; y++) {
    rows[y * (width + 1)] = 2;
    for (let x = 0; x < width; x++)
      rows[y * (width + 1) + 1 + x] = data[y * width + x] - (y > 0 ? data[(y - 1) * width + x] : 0);
  }
  const parms = `/DecodeParms << /Predictor 15 /Columns ${width} >>`;
  return picturePage(packed(rows, `${dict(scan(150))} ${parms}`));
};
export const softMaskScan = () => {
  const page = scan(150);
  const ink = Buffer.from(page.data.map((value) => 255 - value));
  const black = `${dict({ width: 1, height: 1 }, '/DeviceRGB')} /SMask ${first(1) + 1} 0 R`;
  return picturePage(packed(Buffer.alloc(3), black), { more: [packed(ink, dict(page))] });
};
export const inlineScan = () => {
  const page = scan(50);
  const data = bits(page, 0).toString('hex');
  const { width, height } = A4;
  const head = `q ${width} 0 0 ${height} 0 0 cm BI /W ${page.width} /H ${page.height} /CS /G /BPC 1 /F /AHx ID\n`;
  return pagesFile([{ content: `${head}${data}>\nEI Q` }]);
};
/** A scanner's page that comes as strips below one another. */
export const stripScan = () => {
  const page = scan(200);
  const rows = Math.ceil(page.height / 8);
  const strips = Array.from({ length: 8 }, (_, i) => {
    const data = page.data.subarray(
      i * rows * page.width,
      Math.min(page.height, (i + 1) * rows) * page.width,
    );
    return { data, height: data.length / page.width };
  });
  let y = page.height;
  const scale = A4.width / page.width;
  const content = strips.map(({ height }, i) => {
    y -= height;
    return `q ${page.width * scale} 0 0 ${height * scale} 0 ${y * (A4.height / page.height)} cm /S${i} Do Q`;
  });
  return pagesFile(
    [
      {
        content: content.join('\n'),
        resources: `/XObject << ${strips.map((_, i) => `/S${i} ${first(1) + i} 0 R`).join(' ')} >>`,
      },
    ],
    { more: strips.map(({ data, height }) => packed(data, dict({ width: page.width, height }))) },
  );
};
/** 600 dpi in colour with a scanner's noise, not packed: 104 MB. */
export const largeScan = () => image(coloured(scan(600), 12), dict(scan(600), '/DeviceRGB'));
