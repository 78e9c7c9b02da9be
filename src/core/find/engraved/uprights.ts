import type { BarStroke, StaffParts } from '../types.ts';
import type { Straight } from './straight.ts';
import { bottomOf, topOf } from './systems.ts';

/** Ends of a bar line lie this close to the outer staff lines, in spaces. */
const MEETS = 0.22;
/** An end this far beyond may still be one, but it is not sure. */
const NEARLY = 0.4;
/** Edges of strokes of several staves lie this close, in spaces, when they are one bar line. */
const SAME = 0.3;

/** Something solid beside an upright: heads and beams make it a stem. */
export interface Blob {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

interface Candidate {
  readonly line: Straight;
  readonly staff: number;
  readonly sure: number;
}

/**
 * Uprights of a system that may be bar lines, left to right. `blobs` are the heads near it: an upright with
 * a head at its side, near an end, is a stem unless it spans several staves.
 */
export function strokesOf(
  staves: readonly StaffParts[],
  upright: readonly Straight[],
  blobs: readonly Blob[],
): BarStroke[] {
  const candidates = staves.flatMap((staff, i) =>
    upright.flatMap((line): Candidate[] => {
      const sure = fits(line, staff, staves, blobs, upright);
      return sure > 0 ? [{ line, staff: i, sure }] : [];
    }),
  );
  const { space } = staves[0]!;
  const groups: Candidate[][] = [];
  for (const candidate of [...candidates].sort((a, b) => a.line.at - b.line.at)) {
    const group = groups.at(-1);
    if (
      group &&
      candidate.line.at - group[0]!.line.at <= SAME * space &&
      isAlike(group[0]!.line, candidate.line)
    )
      group.push(candidate);
    else groups.push([candidate]);
  }
  return groups.flatMap((group) => strokeOf(group, staves.length));
}

const isAlike = (a: Straight, b: Straight) =>
  Math.abs(a.thickness - b.thickness) <= 0.5 * Math.max(a.thickness, b.thickness);

/** A bar line goes through all staves, or at least through most of them. */
function strokeOf(group: readonly Candidate[], count: number): BarStroke[] {
  const staves = new Set(group.map(({ staff }) => staff)).size;
  if (staves * 2 <= count && count > 1) return [];
  const x0 = Math.min(...group.map(({ line }) => line.at - line.thickness / 2));
  const x1 = Math.max(...group.map(({ line }) => line.at + line.thickness / 2));
  const best = Math.max(...group.map(({ sure }) => sure));
  return [{ x0, x1, sure: staves === count ? best : best * 0.9 }];
}

/** How sure an upright is a bar line of this staff; 0 when it is none. */
function fits(
  line: Straight,
  staff: StaffParts,
  staves: readonly StaffParts[],
  blobs: readonly Blob[],
  upright: readonly Straight[],
): number {
  const { space } = staff;
  if (line.at < staff.x0 - space || line.at > staff.x1 + space) return 0;
  if (line.thickness > 1.2 * space) return 0;
  const top = topOf(staff) - line.from;
  const bottom = line.to - bottomOf(staff);
  // It reaches another staff of the system: nothing but a bar line does.
  if (-top <= MEETS * space && -bottom <= MEETS * space) {
    const others = staves.filter((other) => other !== staff);
    const spans = others.some(
      (other) =>
        line.from <= topOf(other) + MEETS * other.space && line.to >= bottomOf(other) - MEETS * other.space,
    );
    if (spans) return 1;
  }
  const off = Math.max(...[top, bottom].map((end) => outside(end, line, staff, staves, upright)));
  if (off > NEARLY * space) return 0;
  if (blobs.some((blob) => isBeside(blob, line, space))) return 0;
  return off <= MEETS * space ? 0.995 : 0.8;
}

/**
 * How far an end lies off its staff line. Going on towards a neighbouring staff is no fault where that has
 * a line at the same place: words may interrupt a bar line between staves.
 */
function outside(
  end: number,
  line: Straight,
  staff: StaffParts,
  staves: readonly StaffParts[],
  upright: readonly Straight[],
): number {
  if (staves.length === 1 || end <= 0) return Math.abs(end);
  const near = 0.3 * staff.space;
  const goesOn = staves.some((other) => {
    if (other === staff) return false;
    const isBetween = line.from >= bottomOf(other) - near || line.to <= topOf(other) + near;
    const partners = upright.filter(({ at }) => Math.abs(at - line.at) <= near);
    return (
      isBetween &&
      partners.some(({ from, to }) => from <= topOf(other) + near && to >= bottomOf(other) - near)
    );
  });
  return goesOn ? 0 : end;
}

/** A head whose side touches the upright near one of its ends. */
function isBeside(blob: Blob, line: Straight, space: number): boolean {
  const near = 0.2 * space + line.thickness / 2;
  const touches = Math.abs(blob.x0 - line.at) <= near || Math.abs(blob.x1 - line.at) <= near;
  if (!touches) return false;
  const y = (blob.y0 + blob.y1) / 2;
  return Math.min(Math.abs(y - line.from), Math.abs(y - line.to)) <= 0.75 * space;
}
