/** A TrueType font (Apple's TrueType Reference Manual) of glyphs made of rectangles. */

/** Rectangles of a glyph in units of a thousandth of an em, y upwards: x, y, width, height. */
export interface Glyph {
  readonly rectangles: readonly (readonly [number, number, number, number])[];
  readonly advance: number;
}

const bytes = (...parts: readonly (readonly [size: 1 | 2 | 4, ...values: number[]])[]) => {
  const view = new DataView(
    new ArrayBuffer(parts.reduce((sum, [size, ...values]) => sum + size * values.length, 0)),
  );
  let at = 0;
  for (const [size, ...values] of parts)
    for (const value of values) {
      if (size === 1) view.setUint8(at, value);
      else if (size === 2) view.setInt16(at, value > 32767 ? value - 65536 : value);
      else view.setUint32(at, value);
      at += size;
    }
  return new Uint8Array(view.buffer);
};

function glyf({ rectangles }: Glyph): Uint8Array {
  if (rectangles.length === 0) return new Uint8Array(0);
  const rings = rectangles.map(([x, y, w, h]) => [
    [x, y],
    [x, y + h],
    [x + w, y + h],
    [x + w, y],
  ]);
  const points = rings.flat();
  const [xs, ys] = [points.map(([x]) => x!), points.map(([, y]) => y!)];
  const steps = (values: number[]) => values.map((value, i) => value - (values[i - 1] ?? 0));
  const made = bytes(
    [2, rings.length, Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)],
    [2, ...rings.map((_, i) => i * 4 + 3), 0],
    [1, ...points.map(() => 1)],
    [2, ...steps(xs), ...steps(ys)],
  );
  return made.length % 2 === 0 ? made : new Uint8Array([...made, 0]);
}

const EM = 1000;

/** The file of a font with these glyphs; the first is .notdef. */
export function trueType(glyphs: readonly Glyph[]): Uint8Array {
  const drawn = glyphs.map(glyf);
  const starts = drawn.map((_, i) => drawn.slice(0, i).reduce((sum, { length }) => sum + length, 0));
  const end = drawn.reduce((sum, { length }) => sum + length, 0);
  const widest = Math.max(...glyphs.map(({ advance }) => advance));
  const tables: Record<string, Uint8Array> = {
    glyf: new Uint8Array(drawn.flatMap((one) => [...one])),
    head: bytes(
      [4, 0x10000, 0x10000, 0, 0x5f0f3cf5],
      [2, 0, EM],
      [4, 0, 0, 0, 0],
      [2, 0, -2000, 20000, 2000, 0, 8, 2, 1, 0],
    ),
    hhea: bytes([4, 0x10000], [2, 1000, -250, 0, widest, 0, 0, 0, 1, 0, 0, 0, 0, 0, 0, 0, glyphs.length]),
    hmtx: bytes([2, ...glyphs.flatMap(({ advance }) => [advance, 0])]),
    loca: bytes([4, ...starts, end]),
    maxp: bytes([4, 0x10000], [2, glyphs.length, 200, 50, 0, 0, 1, 0, 0, 0, 0, 0, 0, 0]),
    post: bytes([4, 0x30000, 0], [2, 0, 0], [4, 0, 0, 0, 0, 0]),
  };
  const names = Object.keys(tables).sort();
  let at = 12 + 16 * names.length;
  const directory: number[] = [];
  const body: number[] = [];
  for (const name of names) {
    const table = tables[name]!;
    const tag = Array.from(name, (letter) => letter.charCodeAt(0));
    directory.push(...tag, ...bytes([4, 0, at, table.length]));
    const padded = [...table, ...new Array<number>((4 - (table.length % 4)) % 4).fill(0)];
    body.push(...padded);
    at += padded.length;
  }
  const head = bytes([4, 0x10000], [2, names.length, 64, 2, names.length * 16 - 64]);
  return new Uint8Array([...head, ...directory, ...body]);
}
