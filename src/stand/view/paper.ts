/** Samples a side, taken evenly over the page. */
const SAMPLES = 48;
/** An engraved page is white but for its ink; the paper of a scan is hardly ever exactly white. */
const WHITE_SHARE = 0.6;

/**
 * Whether a drawn page looks like ink on pure white, so that ink and paper may be swapped.
 * A scan with grey paper does not.
 */
export function looksEngraved(page: HTMLCanvasElement): boolean {
  const small = document.createElement('canvas');
  small.width = small.height = SAMPLES;
  const context = small.getContext('2d', { willReadFrequently: true });
  if (!context) return false;
  context.imageSmoothingEnabled = false;
  context.drawImage(page, 0, 0, SAMPLES, SAMPLES);
  const pixels = new Uint32Array(context.getImageData(0, 0, SAMPLES, SAMPLES).data.buffer);
  const white = pixels.filter((pixel) => pixel === 0xffffffff).length;
  return white >= pixels.length * WHITE_SHARE;
}

/**
 * The stage theme swaps ink and paper by one linear map a channel: white becomes the stage's paper, black its
 * ink. `feColorMatrix` does exactly that, in the page's own colour space.
 */
export function stageFilter(): SVGSVGElement {
  const ink = [0xe9, 0xe3, 0xd3].map((value) => value / 255);
  const paper = [0x12, 0x18, 0x1a].map((value) => value / 255);
  const rows = ink.map((from, channel) => {
    const row = [0, 0, 0, 0, from];
    row[channel] = paper[channel]! - from;
    return row.join(' ');
  });
  const holder = document.createElement('div');
  holder.innerHTML =
    `<svg class="stage-filter" aria-hidden="true" width="0" height="0"><filter id="ink-paper-swap" ` +
    `color-interpolation-filters="sRGB"><feColorMatrix type="matrix" values="${rows.join(' ')} 0 0 0 1 0"/>` +
    `</filter></svg>`;
  return holder.firstElementChild as SVGSVGElement;
}
