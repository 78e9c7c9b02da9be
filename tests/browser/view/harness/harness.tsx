import type { PageBox, Turn } from '../../../../src/core/chart/types.ts';
import { openPdf, type PdfFile } from '../../../../src/pdf/open.ts';
import { thumb } from '../../../../src/pdf/thumb.ts';
import type { StandView } from '../../../../src/stand/mode.ts';
import { createView, Veil } from '../../../../src/stand/view/index.ts';

/** The real view, without stand and store around it, for measuring. */
let file: PdfFile | null = null;
let view: StandView | null = null;

const harness = {
  /** Opens the bytes at an address, their pages turned; gives sizes, or the name of what is wrong. */
  async open(address: string, turn: Turn = 0) {
    view?.dispose();
    await file?.destroy();
    view = file = null;
    const bytes = await (await fetch(address)).blob();
    try {
      file = await openPdf(bytes, { turns: () => ({ pages: {}, rest: turn }) });
    } catch (error) {
      return { error: (error as Error).name };
    }
    view = await createView(document.querySelector<HTMLElement>('#stand')!, file);
    return { error: null, pages: file.pages };
  },
  view: () => view!,
  /** The same boxes on every page, in blue. */
  marks(boxes: readonly PageBox[]) {
    view!.setOverlay(() => (
      <>
        {boxes.map(([x0, y0, x1, y1]) => (
          <div
            class="mark"
            style={{
              left: `${x0 * 100}%`,
              top: `${y0 * 100}%`,
              width: `${(x1 - x0) * 100}%`,
              height: `${(y1 - y0) * 100}%`,
            }}
          />
        ))}
      </>
    ));
  },
  veil(lit: readonly PageBox[]) {
    view!.setOverlay(() => <Veil lit={lit} />);
  },
  none: () => view!.setOverlay(() => null),
  async thumb(page: number, box: PageBox, width: number) {
    const canvas = await thumb(file!, page, box, width);
    return { width: canvas.width, height: canvas.height, url: canvas.toDataURL() };
  },
};

export type Harness = typeof harness;
declare global {
  var harness: Harness;
}
globalThis.harness = harness;
document.documentElement.dataset.state = 'ready';
