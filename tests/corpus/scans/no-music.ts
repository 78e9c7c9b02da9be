/**
 * Pages without music: `npx tsx tests/corpus/scans/no-music.ts [--pages 200] [--from 0]` draws so many of them,
 * looks for bars, and names the pages on which some were found. Text, tables, forms with ruled lines, maps,
 * plans, photographs and noise, each from its own seed.
 */
import { createCanvas, type SKRSContext2D } from '@napi-rs/canvas';
import { pathToFileURL } from 'node:url';
import { parseArgs } from 'node:util';
import { findPixels, greyOf, type Picture } from '../../../src/core/find/pixels/index.ts';
import { Random } from '../tunes/random.ts';
import { suffer } from './defects.ts';

type Draw = (context: SKRSContext2D, random: Random, width: number, height: number) => void;

const WORDS =
  'tide rope light mast water harbour slack net fog bell lamp keel oar the and of to in a is'.split(' ');
const between = (random: Random, low: number, high: number) => low + (high - low) * random.next();

function sentence(random: Random, words: number): string {
  return Array.from({ length: words }, () => random.pick(WORDS)).join(' ');
}

const text: Draw = (context, random, width, height) => {
  const size = between(random, 14, 34);
  const columns = 1 + random.below(3);
  context.font = `${size}px ${random.pick(['serif', 'sans-serif', 'monospace'])}`;
  const wide = (width - 160) / columns;
  for (let c = 0; c < columns; c++)
    for (let y = 120; y < height - 100; y += size * 1.25) {
      if (random.chance(0.08)) continue;
      let line = '';
      while (context.measureText(line).width < wide - 60 - size * 4) line += `${sentence(random, 1)} `;
      context.fillText(line, 80 + c * wide, y);
    }
};

const table: Draw = (context, random, width, height) => {
  text(context, random, width, 300);
  const rows = 2 + random.below(16);
  const columns = 2 + random.below(7);
  const high = between(random, 16, 70);
  context.lineWidth = 1 + random.below(3);
  context.font = `${Math.min(24, high * 0.6)}px sans-serif`;
  for (let y = 340; y + rows * high < height - 60; y += (rows + 2) * high) {
    for (let r = 0; r <= rows; r++) context.strokeRect(90, y + r * high, width - 180, 0.1);
    for (let c = 0; c <= columns; c++)
      context.strokeRect(90 + (c * (width - 180)) / columns, y, 0.1, rows * high);
    for (let r = 0; r < rows; r++)
      for (let c = 0; c < columns; c++)
        if (random.chance(0.8))
          context.fillText(
            String(random.below(9999)),
            96 + (c * (width - 180)) / columns,
            y + (r + 0.75) * high,
          );
  }
};

const ruled: Draw = (context, random, width, height) => {
  const gap = between(random, 12, 60);
  context.lineWidth = 1 + random.below(2);
  for (let y = 100; y < height - 80; y += gap) context.strokeRect(70, y, width - 140, 0.1);
  if (random.chance(0.5))
    for (let x = 70; x < width - 70; x += gap) context.strokeRect(x, 100, 0.1, height - 180);
};

const map: Draw = (context, random, width, height) => {
  for (let i = 0; i < 60; i++) {
    context.lineWidth = between(random, 1, 6);
    context.beginPath();
    let [x, y] = [random.next() * width, random.next() * height];
    context.moveTo(x, y);
    for (let k = 0; k < 40; k++) {
      x += between(random, -60, 60);
      y += between(random, -60, 60);
      context.lineTo(x, y);
    }
    context.stroke();
    context.fillText(sentence(random, 1), x, y);
  }
};

const plan: Draw = (context, random, width, height) => {
  for (let i = 0; i < 150; i++) {
    context.lineWidth = 1 + random.below(4);
    const [x, y] = [random.next() * width, random.next() * height];
    context.strokeRect(x, y, random.next() * 500, random.next() * 300);
  }
};

const photograph: Draw = (context, random, width, height) => {
  for (let i = 0; i < 160; i++) {
    const grey = random.below(256);
    context.fillStyle = `rgba(${grey},${grey},${grey},0.5)`;
    context.beginPath();
    context.ellipse(
      random.next() * width,
      random.next() * height,
      random.next() * 400,
      random.next() * 300,
      random.next() * 3,
      0,
      7,
    );
    context.fill();
  }
};

/** A chart of bars, as in a report: level grid lines with uprights on them. */
const graph: Draw = (context, random, width, height) => {
  for (let top = 150; top < height - 420; top += 420) {
    const lines = 4 + random.below(5);
    context.lineWidth = 1;
    for (let k = 0; k < lines; k++) context.strokeRect(120, top + (k * 320) / (lines - 1), width - 240, 0.1);
    for (let x = 140; x < width - 160; x += 60) {
      const high = random.next() * 320;
      context.fillRect(x, top + 320 - high, 30, high);
    }
  }
};

const noise: Draw = (context, random, width, height) => {
  const image = context.getImageData(0, 0, width, height);
  for (let i = 0; i < image.data.length; i += 4) image.data.fill(random.below(256), i, i + 3);
  context.putImageData(image, 0, 0);
};

export const kinds: Record<string, Draw> = { text, table, ruled, map, plan, photograph, graph, noise };

/** A page of a kind at 150 dpi, A4; half of them scanned, unless all are to be sound. */
export function pageWithoutMusic(kind: string, seed: number, sound = false): Picture {
  const [width, height] = [1240, 1754];
  const random = new Random(seed * 97 + 5);
  const canvas = createCanvas(width, height);
  const context = canvas.getContext('2d');
  context.fillStyle = 'white';
  context.fillRect(0, 0, width, height);
  context.fillStyle = 'black';
  kinds[kind]!(context, random, width, height);
  const page = greyOf(context.getImageData(0, 0, width, height).data, width, height);
  return !sound && random.chance(0.5) ? suffer(page, 'scanned', seed, 150).picture : page;
}

function main(): void {
  const { values } = parseArgs({
    options: { pages: { type: 'string', default: '200' }, from: { type: 'string', default: '0' } },
  });
  const names = Object.keys(kinds);
  const wrong = new Map<string, number>();
  let slowest = 0;
  const from = Number(values.from);
  for (let seed = from; seed < from + Number(values.pages); seed++) {
    const kind = names[seed % names.length]!;
    const page = pageWithoutMusic(kind, seed);
    const started = performance.now();
    const found = findPixels(page, 0, page);
    slowest = Math.max(slowest, performance.now() - started);
    const bars = found.systems.flatMap((system) => system.bars).length;
    if (bars === 0) continue;
    wrong.set(kind, (wrong.get(kind) ?? 0) + 1);
    console.log(`${kind} ${seed}: ${bars} bars`);
  }
  const total = [...wrong.values()].reduce((a, b) => a + b, 0);
  console.log(`${total} of ${values.pages} pages with bars; slowest ${Math.round(slowest)} ms`);
}

if (import.meta.url === pathToFileURL(process.argv[1]!).href) main();
