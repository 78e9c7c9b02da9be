import * as pdfjs from 'pdfjs-dist';
import workerUrl from 'pdfjs-dist/build/pdf.worker.min.mjs?url';
import { EventBus, PDFViewer } from 'pdfjs-dist/web/pdf_viewer.mjs';
import 'pdfjs-dist/web/pdf_viewer.css';

/**
 * pdf.js's viewer and nothing else, with the options and the size of the stand's view: what opening a file is
 * measured against. The address's fragment says width and height of the view in CSS px, and the scale; then, if
 * it is not to wait for a file to be chosen, the file's address.
 */
const [width, height, scale, address] = location.hash.slice(1).split(',');
const container = document.querySelector<HTMLDivElement>('#container')!;
container.style.width = `${width}px`;
container.style.height = `${height}px`;
pdfjs.GlobalWorkerOptions.workerSrc = workerUrl;
const packed = (folder: string) => new URL(`/pdfjs/${folder}/`, location.origin).href;

const input = document.querySelector<HTMLInputElement>('.open-file')!;
input.addEventListener('change', () => {
  performance.mark('handed-over');
  void open(input.files![0]!);
});
if (address) void fetch(address).then(open);

async function open(file: File | Response): Promise<void> {
  const document_ = await pdfjs.getDocument({
    data: new Uint8Array(await file.arrayBuffer()),
    cMapUrl: packed('cmaps'),
    cMapPacked: true,
    standardFontDataUrl: packed('standard_fonts'),
    wasmUrl: packed('wasm'),
    iccUrl: packed('iccs'),
    isEvalSupported: false,
    enableXfa: false,
  }).promise;
  const eventBus = new EventBus();
  const viewer = new PDFViewer({
    container,
    eventBus,
    textLayerMode: 0,
    annotationMode: pdfjs.AnnotationMode.ENABLE,
    annotationEditorMode: pdfjs.AnnotationEditorType.DISABLE,
    removePageBorders: true,
    enableAutoLinking: false,
  });
  eventBus.on('pagesinit', () => (viewer.currentScale = Number(scale)));
  eventBus.on(
    'pagerendered',
    () =>
      requestAnimationFrame(() => {
        performance.mark('first-page');
        document.documentElement.dataset.state = 'ready';
      }),
    { once: true },
  );
  viewer.setDocument(document_);
}
