/**
 * Loops over all pixels of a page and all weights of a net, in WebAssembly: at once as fast as they ever are, where
 * JavaScript's are fast after several pages. They give the same in every engine. Their source is `assembly`, and
 * `npm run kernels` makes `built.json` of it.
 */
import { bytesOf } from '../base64.ts';
import built from './built.json' with { type: 'json' };

/** What `assembly/index.ts` exports. Addresses are bytes of the memory. */
type Names =
  | 'around'
  | 'blobs'
  | 'coarseStaff'
  | 'combs'
  | 'convolve'
  | 'darker'
  | 'deepen'
  | 'faded'
  | 'fillRow'
  | 'fineStaff'
  | 'gathered'
  | 'greyOfBits'
  | 'greyOfRgb'
  | 'inkBetween'
  | 'inkRows'
  | 'lineAlong'
  | 'lineProfile'
  | 'longestRuns'
  | 'masked'
  | 'normalised'
  | 'packed'
  | 'papers'
  | 'plainProfile'
  | 'product'
  | 'rowsOf'
  | 'ridges'
  | 'sharpness'
  | 'softened'
  | 'squares'
  | 'sum'
  | 'summed'
  | 'takenFrom'
  | 'thinRows';
type Kernels = Readonly<Record<Names, (...given: number[]) => number>> & {
  readonly memory: WebAssembly.Memory;
};

let made: Kernels | null = null;

/** The kernels, compiled when they are first asked for. */
export function kernels(): Kernels {
  made ??= new WebAssembly.Instance(new WebAssembly.Module(bytesOf(built.base64)))
    .exports as unknown as Kernels;
  return made;
}

/** A part of the kernels' memory for each array that is wanted, until the next are lent. What stands in it is anything. */
export interface Lent<Sizes extends readonly number[]> {
  /** Where each begins. */
  readonly at: { readonly [Of in keyof Sizes]: number };
  /** All of the memory. */
  readonly bytes: Uint8Array<ArrayBuffer>;
  readonly words: Int32Array<ArrayBuffer>;
  readonly floats: Float32Array<ArrayBuffer>;
}

/** Vectors are so many bytes long: whole ones may be read behind the end of an array. */
export const VECTOR = 16;
/** Bytes of a page of WebAssembly's memory. */
const PAGE = 65_536;

/** All of the memory, as long as it has not grown. */
let views: Omit<Lent<[]>, 'at'> = {
  bytes: new Uint8Array(),
  words: new Int32Array(),
  floats: new Float32Array(),
};

/** Where the memory begins that can be lent: before it lies what is held. */
let free = VECTOR;

/**
 * The same for what several kernels look at: nothing is lent of it until the next is held.
 * @param sizes in bytes
 */
export function held<const Sizes extends readonly number[]>(...sizes: Sizes): Lent<Sizes> {
  free = VECTOR;
  const now = lent(...sizes, 0);
  free = now.at.at(-1)!;
  return now as unknown as Lent<Sizes>;
}

/** @param sizes in bytes */
export function lent<const Sizes extends readonly number[]>(...sizes: Sizes): Lent<Sizes> {
  let end = free;
  const at = sizes.map((size) => {
    const begin = end;
    end = Math.ceil((end + size) / VECTOR) * VECTOR + VECTOR;
    return begin;
  });
  if (end > views.bytes.length) views = grown(end);
  const { bytes, words, floats } = views;
  return { at: at as unknown as Lent<Sizes>['at'], bytes, words, floats };
}

/** The memory, of at least so many bytes. What was seen of it before is lost. */
function grown(bytes: number): typeof views {
  const { memory } = kernels();
  const missing = bytes - memory.buffer.byteLength;
  if (missing > 0) memory.grow(Math.ceil(missing / PAGE));
  const { buffer } = memory;
  return {
    bytes: new Uint8Array(buffer),
    words: new Int32Array(buffer),
    floats: new Float32Array(buffer),
  };
}
