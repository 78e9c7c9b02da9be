import { LARGEST_IMAGE } from './limits.ts';

const packed = (folder: string) => new URL(`/pdfjs/${folder}/`, location.origin).href;

/** How every file is opened in a browser: with what is packed beside us, fetched from nowhere; no script runs. */
export const packedOptions = () => ({
  cMapUrl: packed('cmaps'),
  cMapPacked: true,
  standardFontDataUrl: packed('standard_fonts'),
  wasmUrl: packed('wasm'),
  iccUrl: packed('iccs'),
  isEvalSupported: false,
  enableXfa: false,
  maxImageSize: LARGEST_IMAGE,
});
