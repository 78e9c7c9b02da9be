/** A JBIG2 encoder for one generic region, as scanners write it (ITU-T T.88: 6.2, annex E, 7.2–7.4). */

// Table E.1: Qe, next state after MPS, after LPS, whether the MPS switches.
const rows =
  '5601 1 1 1|3401 2 6 0|1801 3 9 0|0AC1 4 12 0|0521 5 29 0|0221 38 33 0|5601 7 6 1|5401 8 14 0|4801 9 14 0|' +
  '3801 10 14 0|3001 11 17 0|2401 12 18 0|1C01 13 20 0|1601 29 21 0|5601 15 14 1|5401 16 14 0|5101 17 15 0|' +
  '4801 18 16 0|3801 19 17 0|3401 20 18 0|3001 21 19 0|2801 22 19 0|2401 23 20 0|2201 24 21 0|1C01 25 22 0|' +
  '1801 26 23 0|1601 27 24 0|1401 28 25 0|1201 29 26 0|1101 30 27 0|0AC1 31 28 0|09C1 32 29 0|08A1 33 30 0|' +
  '0521 34 31 0|0441 35 32 0|02A1 36 33 0|0221 37 34 0|0141 38 35 0|0111 39 36 0|0085 40 37 0|0049 41 38 0|' +
  '0025 42 39 0|0015 43 40 0|0009 44 41 0|0005 45 42 0|0001 45 43 0|5601 46 46 0';
const states = rows.split('|').map((row) => {
  const [qe, mps, lps, turns] = row.split(' ');
  return { qe: parseInt(qe, 16), mps: Number(mps), lps: Number(lps), turns: turns === '1' };
});

/** The arithmetic encoder of annex E, with so many contexts. */
function arithmetic(contexts) {
  const state = new Uint8Array(contexts);
  const likely = new Uint8Array(contexts);
  // The first byte is a place before the data.
  const out = [0];
  let [a, c, ct] = [0x8000, 0, 12];
  const put = (shift, mask, next) => {
    out.push(Math.floor(c / 2 ** shift) & 0xff);
    c %= mask;
    ct = next;
  };
  const byteOut = () => {
    const last = out.length - 1;
    if (out[last] !== 0xff && c >= 0x8000000) {
      out[last]++;
      c %= 0x8000000;
    }
    if (out[last] === 0xff) put(20, 0x100000, 7);
    else put(19, 0x80000, 8);
  };
  const renorm = () => {
    do {
      a *= 2;
      c *= 2;
      if (--ct === 0) byteOut();
    } while (a < 0x8000);
  };
  return {
    encode(context, bit) {
      const { qe, mps, lps, turns } = states[state[context]];
      a -= qe;
      if (bit === likely[context]) {
        if (a >= 0x8000) {
          c += qe;
          return;
        }
        if (a < qe) a = qe;
        else c += qe;
        state[context] = mps;
      } else {
        if (a < qe) c += qe;
        else a = qe;
        if (turns) likely[context] ^= 1;
        state[context] = lps;
      }
      renorm();
    },
    end() {
      const limit = c + a;
      c = Math.floor(c / 0x10000) * 0x10000 + 0xffff;
      if (c >= limit) c -= 0x8000;
      for (let i = 0; i < 2; i++) {
        c *= 2 ** ct;
        byteOut();
      }
      return Buffer.from([...out.slice(1), 0xff, 0xac]);
    },
  };
}

function segment(number, type, data) {
  const head = Buffer.alloc(11);
  head.writeUInt32BE(number, 0);
  head[4] = type;
  head[6] = 1;
  head.writeUInt32BE(data.length, 7);
  return Buffer.concat([head, data]);
}

const numbers = (...values) => {
  const out = Buffer.alloc(4 * values.length);
  values.forEach((value, i) => out.writeUInt32BE(value, 4 * i));
  return out;
};

const pageOf = ({ width, height }, region) =>
  Buffer.concat([
    segment(0, 48, Buffer.concat([numbers(width, height, 0, 0), Buffer.from([0, 0, 0])])),
    segment(1, 38, Buffer.concat([numbers(width, height, 0, 0), Buffer.from([0]), region])),
  ]);

/** Pixels (255 paper, 0 ink) in arithmetic coding, template 0 with its nominal adaptive pixels. */
export function jbig2({ width, height, data }) {
  const coder = arithmetic(1 << 16);
  const ink = (x, y) => (x >= 0 && x < width && y >= 0 && data[y * width + x] < 128 ? 1 : 0);
  for (let y = 0; y < height; y++) {
    // The sixteen pixels around as three windows that move along. Their order is free: every context begins alike.
    let [above2, above, before] = [0, 0, 0];
    for (let x = 0; x < 2; x++) above2 = (above2 << 1) | ink(x, y - 2);
    for (let x = 0; x < 3; x++) above = (above << 1) | ink(x, y - 1);
    for (let x = 0; x < width; x++) {
      above2 = ((above2 << 1) | ink(x + 2, y - 2)) & 0x1f;
      above = ((above << 1) | ink(x + 3, y - 1)) & 0x7f;
      const bit = ink(x, y);
      coder.encode((above2 << 11) | (above << 4) | before, bit);
      before = ((before << 1) | bit) & 0xf;
    }
  }
  const nominal = Buffer.from([0, 3, 0xff, 0xfd, 0xff, 2, 0xfe, 0xfe, 0xfe]);
  return pageOf({ width, height }, Buffer.concat([nominal, coder.end()]));
}

/** The same around data that is in CCITT group 4 already. */
export const jbig2OfG4 = (size, g4) => pageOf(size, Buffer.concat([Buffer.from([1]), g4]));
