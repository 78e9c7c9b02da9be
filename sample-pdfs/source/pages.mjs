/** Reads systems and bar lines off an engraved page, makes marks of them, and turns or tilts pages. */
import { degrees, PDFDocument, PDFName } from 'pdf-lib';

/** Engravings of one date, so that the same sources give the same bytes and the same hash. */
const day = new Date('2026-01-01T00:00:00Z');

/** Bar lines closer than this many staff spaces are one boundary (double, final, repeat). */
const together = 1.6;

const round = (n) => Math.round(n * 1e6) / 1e6;

/** Strokes of one page; lengths in staff spaces, which is LilyPond's unit in SVG. */
function strokes(svg) {
  const [, width, height] = /viewBox="\S+ \S+ (\S+) (\S+)"/.exec(svg).map(Number);
  const place = String.raw`<g transform="translate\((\S+), (\S+)\)">\s*`;
  const lines = [
    ...svg.matchAll(RegExp(`${place}<line [^>]*x1="(\\S+)" y1="0" x2="(\\S+)" y2="0"`, 'g')),
  ].map(([, x, y, x1, x2]) => ({ y: +y, from: +x + +x1, to: +x + +x2 }));
  const rects = [
    ...svg.matchAll(RegExp(`${place}<rect x="(\\S+)" y="(\\S+)" width="(\\S+)" height="(\\S+)"`, 'g')),
  ].map(([, x, y, dx, dy, w, h]) => ({ left: +x + +dx, right: +x + +dx + +w, top: +y + +dy, height: +h }));
  return { width, height, lines, rects };
}

/** Systems of a page: five lines each, with the middles of their bar lines, as fractions of the page. */
function systemsOf(svg) {
  const { width, height, lines, rects } = strokes(svg);
  const staffLines = lines.filter((line) => line.to - line.from > width / 3).sort((a, b) => a.y - b.y);
  if (staffLines.length % 5) throw new Error(`${staffLines.length} staff lines on a page`);
  const systems = [];
  for (let i = 0; i < staffLines.length; i += 5) {
    const [top, bottom] = [staffLines[i], staffLines[i + 4]];
    const bars = rects
      .filter((r) => Math.abs(r.top - top.y) < 0.1 && Math.abs(r.height - (bottom.y - top.y)) < 0.2)
      .sort((a, b) => a.left - b.left);
    const groups = [];
    for (const bar of bars) {
      const last = groups.at(-1);
      if (last && bar.left - last.right < together) last.right = bar.right;
      else groups.push({ left: bar.left, right: bar.right });
    }
    systems.push({
      top: round(top.y / height),
      bottom: round(bottom.y / height),
      lines: [top.from, ...groups.map((g) => (g.left + g.right) / 2)].map((x) => round(x / width)),
    });
  }
  return systems;
}

export const pagesOf = (svgs) => svgs.flatMap((svg, page) => systemsOf(svg).map((s) => ({ page, ...s })));

/** Marks of a chart from its systems and its form (see forms.mjs). */
export function place(systems, form) {
  let number = form.bars[0]?.pickup ? 0 : 1;
  const as = new Map(
    (form.asAt ?? []).flatMap(([from, of, n]) => Array.from({ length: n }, (_, i) => [from + i, of + i])),
  );
  return {
    version: 1,
    meter: form.meter,
    unit: null,
    systems: systems.map(({ page, top, bottom, lines }, s) => ({
      id: `s${s + 1}`,
      page,
      top,
      bottom,
      bars: lines.slice(1).map((x1, i) => {
        const n = number++;
        return {
          id: `b${n}`,
          x0: lines[i],
          x1,
          ...form.bars[n],
          ...(as.has(n) ? { as: `b${as.get(n)}` } : {}),
        };
      }),
    })),
  };
}

export async function standardise(bytes) {
  const pdf = await PDFDocument.load(bytes, { updateMetadata: false });
  pdf.setCreationDate(day);
  pdf.setModificationDate(day);
  // The metadata stream holds the hour and a random id.
  const metadata = pdf.catalog.get(PDFName.of('Metadata'));
  if (metadata) pdf.context.delete(metadata);
  pdf.catalog.delete(PDFName.of('Metadata'));
  delete pdf.context.trailerInfo.ID;
  return pdf.save();
}

/** The page laid on its side on a larger sheet: /Rotate stands it up, the crop box shows it alone. */
export async function lie(bytes) {
  const pdf = await PDFDocument.create({ updateMetadata: false });
  const [page] = await pdf.embedPdf(bytes);
  const margin = { x: 40, y: 60 };
  const sheet = pdf.addPage([page.height + 2 * margin.x, page.width + 2 * margin.y]);
  // Turned a quarter against the clock about its lower left corner, which therefore goes to the lower right.
  sheet.drawPage(page, { x: margin.x + page.height, y: margin.y, rotate: degrees(90) });
  sheet.setCropBox(margin.x, margin.y, page.height, page.width);
  sheet.setRotation(degrees(90));
  pdf.setTitle('Ropewalk Waltz, on its side');
  return standardise(await pdf.save());
}

/** Where the boxes fall when the page has been turned clockwise about its middle; `aspect` is width / height. */
export function tilt(marks, clockwise, aspect) {
  const [sin, cos] = [Math.sin((clockwise * Math.PI) / 180), Math.cos((clockwise * Math.PI) / 180)];
  const turn = (x, y) => {
    const [dx, dy] = [(x - 0.5) * aspect, y - 0.5];
    return [(dx * cos - dy * sin) / aspect + 0.5, dx * sin + dy * cos + 0.5].map(round);
  };
  const systems = marks.systems.map((system) => {
    const middle = (system.bars[0].x0 + system.bars.at(-1).x1) / 2;
    const height = (system.top + system.bottom) / 2;
    return {
      ...system,
      top: turn(middle, system.top)[1],
      bottom: turn(middle, system.bottom)[1],
      bars: system.bars.map((bar) => ({ ...bar, x0: turn(bar.x0, height)[0], x1: turn(bar.x1, height)[0] })),
    };
  });
  return { ...marks, systems };
}
