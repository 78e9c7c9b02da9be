import type { Comb } from './comb.ts';

/** Combs of neighbouring strips that go on from each other: one staff, left to right. */
export type Track = readonly Comb[];

/** From strip to strip a staff moves at most so much from where it is expected, spaces. */
const STRAYS = 0.4;
/** So many strips in a row may be too crowded to see it. */
const HIDDEN = 4;
/** A comb below this share of the page's good ones is none. */
const FAINT = 0.3;
/** A staff is seen in at least so many strips, and in this share of those it spans. */
const FEWEST = 3;
const SEEN = 0.45;
/** Mean darkness of a sixth line from which it is no staff: a table, or six strings. */
const SIXTH = 0.55;

/**
 * Links combs into staves, the surest first.
 * @param combs best first
 * @param slope of the page, pixels down for each strip to the right
 */
export function tracksOf(combs: readonly Comb[], slope: number): Track[] {
  const good = combs[Math.floor(combs.length * 0.05)]?.score ?? 0;
  const usable = combs.filter(({ score }) => score >= FAINT * good);
  const byStrip: Comb[][] = [];
  for (const comb of usable) (byStrip[comb.strip] ??= []).push(comb);
  const used = new Set<Comb>();
  const tracks: Track[] = [];
  for (const seed of usable) {
    if (used.has(seed)) continue;
    const left = follow(seed, -1, byStrip, used, slope);
    const right = follow(seed, 1, byStrip, used, slope);
    const track = [...left.reverse(), seed, ...right];
    const span = track.at(-1)!.strip - track[0]!.strip + 1;
    if (track.length < FEWEST || track.length < SEEN * span) continue;
    for (const comb of track) used.add(comb);
    tracks.push(track);
  }
  return apart(tracks.filter((track) => mean(track.map(({ sixth }) => sixth)) < SIXTH));
}

function follow(seed: Comb, way: 1 | -1, byStrip: Comb[][], used: Set<Comb>, slope: number): Comb[] {
  const path: Comb[] = [];
  let last = seed;
  let turn = slope * way;
  for (let away = 1; away <= HIDDEN + 1; away++) {
    const strip = last.strip + way * away;
    const expected = last.y + turn * away;
    const next = (byStrip[strip] ?? [])
      .filter((comb) => !used.has(comb) && Math.abs(comb.space / last.space - 1) < 0.1)
      .filter((comb) => Math.abs(comb.y - expected) < STRAYS * comb.space)
      .sort((a, b) => Math.abs(a.y - expected) - Math.abs(b.y - expected))[0];
    if (!next) continue;
    // The slope follows the curl of the page slowly: one comb may be off by a fraction of a space.
    turn += 0.25 * ((next.y - last.y) / away - turn);
    path.push(next);
    last = next;
    away = 0;
  }
  return path;
}

/** Without the tracks that lie on a stronger one: the same staff seen one line off, or in another size. */
function apart(tracks: readonly Track[]): Track[] {
  const strength = (track: Track) => track.reduce((sum, { score }) => sum + score, 0);
  const kept: Track[] = [];
  for (const track of [...tracks].sort((a, b) => strength(b) - strength(a)))
    if (!kept.some((one) => lieOnEachOther(one, track))) kept.push(track);
  return kept;
}

function lieOnEachOther(a: Track, b: Track): boolean {
  return b.some((comb) =>
    a.some(
      (one) =>
        Math.abs(one.strip - comb.strip) <= 1 &&
        Math.abs(one.y - comb.y) < 2.2 * (one.space + comb.space) - 0.3 * one.space,
    ),
  );
}

export function mean(values: readonly number[]): number {
  return values.reduce((a, b) => a + b, 0) / (values.length || 1);
}
