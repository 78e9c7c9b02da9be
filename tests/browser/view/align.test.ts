import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { PNG } from 'pngjs';
import type { Browser, Page } from 'puppeteer-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Turn } from '../../../src/core/chart/types.ts';
import { draw, shapes, turnBox, type Drawn } from './charts.ts';
import { launch, serveHarness, settled, type BrowserName } from './harness.ts';
import { edgesOf, worstEdge, type Edges } from './measure.ts';

/**
 * Red rectangles that the PDF draws, blue ones that the overlay lays on the same fractions: one screenshot of
 * each, every edge compared. CSS px. Scales in per cent as players say them.
 */
const WORST_ALLOWED = 1;
const ZOOMS = [25, 100, 283, 800];
const VIEW = { width: 1000, height: 1300 };

interface Clip {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** The smallest part of the window that holds these rectangles (device px) and a little more, whole CSS px. */
function around(marks: readonly Edges[], density: number): Clip {
  const x = Math.max(0, Math.floor(Math.min(...marks.map((mark) => mark.left)) / density) - 8);
  const y = Math.max(0, Math.floor(Math.min(...marks.map((mark) => mark.top)) / density) - 8);
  const right = Math.min(VIEW.width, Math.ceil(Math.max(...marks.map((mark) => mark.right)) / density) + 8);
  const bottom = Math.min(
    VIEW.height,
    Math.ceil(Math.max(...marks.map((mark) => mark.bottom)) / density) + 8,
  );
  return { x, y, width: right - x, height: bottom - y };
}

const charts = new Map<string, Drawn>();
let server: Awaited<ReturnType<typeof serveHarness>>;

beforeAll(async () => {
  for (const shape of shapes) charts.set(shape.name, await draw(shape));
  server = await serveHarness(new Map([...charts].map(([name, { bytes }]) => [name, bytes])));
});
afterAll(() => server.close());

describe.each((process.env.HOLDFAST_ALIGN ?? 'chromium').split(',') as BrowserName[])('%s', (name) => {
  let browser: Browser;
  let page: Page;
  let density = 0;
  const worst = { at: '', px: 0 };

  beforeAll(async () => {
    browser = await launch(name);
    page = await browser.newPage();
  });
  afterAll(async () => {
    console.log(`${name}: worst edge ${worst.px.toFixed(3)} CSS px (${worst.at})`);
    await browser.close();
  });

  async function openAt(deviceScaleFactor: number, chart: string, turn: Turn = 0) {
    if (density !== deviceScaleFactor) {
      density = deviceScaleFactor;
      await page.setViewport({ ...VIEW, deviceScaleFactor });
    }
    await page.goto(server.address);
    await page.waitForSelector('html[data-state=ready]');
    const opened = await page.evaluate((url, by) => harness.open(url, by), `/pdf/${chart}`, turn);
    expect(opened.error).toBeNull();
    return opened;
  }

  const shoot = async (clip: Clip) =>
    PNG.sync.read(Buffer.from(await page.screenshot({ clip, captureBeyondViewport: false })));

  /** Where the overlay's boxes of a page lie in the window now, device px. */
  const marksOn = (pageIndex: number): Promise<Edges[]> =>
    page.evaluate(
      (index, ratio) =>
        [...document.querySelectorAll('.page')[index]!.querySelectorAll('.mark')].map((mark) => {
          const { left, top, right, bottom } = mark.getBoundingClientRect();
          return { left: left * ratio, top: top * ratio, right: right * ratio, bottom: bottom * ratio };
        }),
      pageIndex,
      density,
    );

  /** Brings one box into the middle of the window. */
  const scrollTo = (pageIndex: number, box: number) =>
    page.evaluate(
      (index, mark) => {
        document
          .querySelectorAll('.page')
          [index]!.querySelectorAll('.mark')
          [mark]!.scrollIntoView({ block: 'center', inline: 'center', behavior: 'instant' });
      },
      pageIndex,
      box,
    );

  /** Compares drawn and laid rectangles that are wholly in the window; gives how many there were. */
  async function compare(chart: Drawn, pageIndex: number, what: string): Promise<number> {
    await page.evaluate((boxes) => harness.marks(boxes), chart.boxes);
    await settled(page);
    const marks = (await marksOn(pageIndex)).filter(
      ({ left, top, right, bottom }) =>
        left > 4 && top > 4 && right < VIEW.width * density - 4 && bottom < VIEW.height * density - 4,
    );
    if (marks.length === 0) return 0;
    const clip = around(marks, density);
    const blue = await shoot(clip);
    await page
      .addStyleTag({ content: '.mark { opacity: 0 }' })
      .then((style) => style.evaluate((e) => ((e as Element).id = 'off')));
    const red = await shoot(clip);
    await page.evaluate(() => document.getElementById('off')!.remove());
    for (const mark of marks) {
      const [dx, dy] = [clip.x * density, clip.y * density];
      const about = {
        left: mark.left - dx,
        top: mark.top - dy,
        right: mark.right - dx,
        bottom: mark.bottom - dy,
      };
      const px = worstEdge(edgesOf(blue, 'blue', about, 4), edgesOf(red, 'red', about, 4)) / density;
      if (px > worst.px) Object.assign(worst, { px, at: what });
      expect(px, what).toBeLessThanOrEqual(WORST_ALLOWED);
    }
    return marks.length;
  }

  async function compareAt(chart: Drawn, zoom: number, turn: Turn, pageIndex = 0) {
    const what = `${chart.name}, ${zoom} %, turned ${turn}, ${density} px a CSS px`;
    await page.evaluate((scale) => harness.view().zoomTo(scale), zoom / 100);
    await page.evaluate((boxes) => harness.marks(boxes), chart.boxes);
    if (zoom <= 100) {
      expect(await compare(chart, pageIndex, what), what).toBeGreaterThanOrEqual(3);
      return;
    }
    for (const box of [0, 2, 4]) {
      await scrollTo(pageIndex, box);
      // The sharp drawing of a part comes a while after the stretched one.
      await settled(page, 700);
      expect(await compare(chart, pageIndex, `${what}, box ${box}`), what).toBeGreaterThan(0);
    }
  }

  describe.each((process.env.HOLDFAST_DENSITIES ?? '1,2').split(',').map(Number))(
    'at %i device px a CSS px',
    (ratio) => {
      test.each(shapes.filter((shape) => !shape.pages).map((shape) => shape.name))('%s', async (chart) => {
        const turns =
          chart === 'plain' || chart === 'cropped' ? ([0, 90, 180, 270] as const) : ([0] as const);
        const drawn = charts.get(chart)!;
        for (const turn of turns) {
          await openAt(ratio, chart, turn);
          const turned = { ...drawn, boxes: drawn.boxes.map((box) => turnBox(box, turn)) };
          for (const zoom of ZOOMS) await compareAt(turned, zoom, turn);
        }
      });
    },
  );

  test('after pages were thrown away and drawn anew', async () => {
    await openAt(1, 'long');
    const chart = charts.get('long')!;
    await page.evaluate((boxes) => harness.marks(boxes), chart.boxes);
    await page.evaluate(() => harness.view().zoomTo(1));
    const drawnPages = () =>
      page.evaluate(() =>
        [...document.querySelectorAll('.page')].flatMap((element, n) =>
          element.querySelector('canvas') ? [n] : [],
        ),
      );
    for (let n = 0; n < 14; n++) {
      await page.evaluate((index) => document.querySelectorAll('.page')[index]!.scrollIntoView(), n);
      await settled(page);
    }
    expect(await drawnPages(), 'the first page was evicted').not.toContain(0);
    await page.evaluate(() => document.querySelector('.page')!.scrollIntoView());
    await settled(page);
    expect(await drawnPages()).toContain(0);
    await compareAt(chart, 100, 0, 0);
    await compareAt(chart, 283, 0, 0);
  });

  test('sizes of pages are those that poppler reads', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'view-'));
    for (const { name: chart, rotate = 0, userUnit = 1 } of shapes) {
      const path = join(folder, `${chart}.pdf`);
      writeFileSync(path, charts.get(chart)!.bytes);
      const text = execFileSync('pdfinfo', [path], { encoding: 'utf8' });
      const [, width, height] = /Page size:\s+([\d.]+) x ([\d.]+)/.exec(text)!.map(Number);
      const [, turned] = /Page rot:\s+(\d+)/.exec(text)!.map(Number);
      expect(turned).toBe(rotate);
      const seen = turned! % 180 === 0 ? [width!, height!] : [height!, width!];
      const opened = await openAt(1, chart);
      // pdfinfo leaves UserUnit out.
      expect(opened.pages![0]!.width).toBeCloseTo(seen[0]! * userUnit, 1);
      expect(opened.pages![0]!.height).toBeCloseTo(seen[1]! * userUnit, 1);
    }
    rmSync(folder, { recursive: true });
  });
});
