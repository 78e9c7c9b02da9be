/**
 * Writes and reads bits that are mostly as expected in few bytes: binary range coding whose chances are learnt on the
 * way, as described by G. N. N. Martin, "Range encoding" (1979); the halves of a byte that may still change are kept
 * back as in the LZMA SDK's specification.
 */
const SIGNS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/';
/** Chances are parts of this; the latest bit counts for one in 2 ** `LEARN`. */
const SURE = 12;
const LEARN = 4;
const RENEW = 2 ** 24;

const fresh = (places: number) => new Uint16Array(places).fill(2 ** (SURE - 1));

export interface BitWriter {
  /** @param place where such bits are expected, less than the number of places */
  readonly put: (place: number, bit: number) => void;
  /** Everything that was put, in signs of six bits. */
  readonly end: () => string;
}

/** Where numbers of more than 31 bits are kept without being made anew at every change. */
const LOW = 0;
const RANGE = 1;

export function bitWriter(places: number): BitWriter {
  const chances = fresh(places);
  const bytes: number[] = [];
  const now = new Float64Array([0, 0xffffffff]);
  // The latest byte may grow by one, and bytes of 255 behind it then turn over.
  let [last, full] = [-1, 0];
  const shift = () => {
    const low = now[LOW]!;
    if (low < 0xff000000 || low > 0xffffffff) {
      const more = low > 0xffffffff ? 1 : 0;
      if (last >= 0) bytes.push((last + more) & 255);
      for (; full > 0; full--) bytes.push((255 + more) & 255);
      last = (low >>> 24) & 255;
    } else full++;
    now[LOW] = ((low & 0xffffff) << 8) >>> 0;
  };
  return {
    put: (place, bit) => {
      const chance = chances[place]!;
      const range = now[RANGE]!;
      const bound = (range >>> SURE) * chance;
      let left = bound;
      if (bit === 0) chances[place] = chance + ((2 ** SURE - chance) >> LEARN);
      else {
        now[LOW]! += bound;
        left = range - bound;
        chances[place] = chance - (chance >> LEARN);
      }
      for (; left < RENEW; left *= 256) shift();
      now[RANGE] = left;
    },
    end: () => {
      for (let i = 0; i < 5; i++) shift();
      while (bytes.at(-1) === 0) bytes.pop();
      return textOf(bytes);
    },
  };
}

/** Reads what was put, bit by bit at the same places. Text that is no such writing gives some bits or other. */
export function bitReader(places: number, text: string): (place: number) => number {
  const chances = fresh(places);
  const bytes = bytesOf(text);
  let at = 4;
  // What was read, from the lower end of the range up.
  const now = new Float64Array([new DataView(bytes.buffer).getUint32(0), 0xffffffff]);
  return (place) => {
    const chance = chances[place]!;
    const range = now[RANGE]!;
    const bound = (range >>> SURE) * chance;
    let left = bound;
    let low = now[LOW]!;
    const bit = low < bound ? 0 : 1;
    if (bit === 0) chances[place] = chance + ((2 ** SURE - chance) >> LEARN);
    else {
      low -= bound;
      left = range - bound;
      chances[place] = chance - (chance >> LEARN);
    }
    for (; left < RENEW; left *= 256) low = low * 256 + (at < bytes.length ? bytes[at++]! : 0);
    now[LOW] = low;
    now[RANGE] = left;
    return bit;
  };
}

function textOf(bytes: readonly number[]): string {
  let text = '';
  for (let i = 0; i < bytes.length; i += 3) {
    const three = (bytes[i]! << 16) | ((bytes[i + 1] ?? 0) << 8) | (bytes[i + 2] ?? 0);
    for (let k = 18; k >= 0; k -= 6) text += SIGNS[(three >> k) & 63]!;
  }
  return text;
}

function bytesOf(text: string): Uint8Array {
  const bytes = new Uint8Array(Math.max(4, 3 * Math.ceil(text.length / 4)));
  for (let i = 0, at = 0; i < text.length; i += 4, at += 3) {
    let four = 0;
    for (let k = i; k < i + 4; k++) four = (four << 6) | Math.max(0, SIGNS.indexOf(text[k] ?? 'A'));
    bytes[at] = four >> 16;
    bytes[at + 1] = (four >> 8) & 255;
    bytes[at + 2] = four & 255;
  }
  return bytes;
}
