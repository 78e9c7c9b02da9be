/** Memory of a browser, as Linux counts it: the proportional set size of all of its processes. */
import { readdirSync, readFileSync } from 'node:fs';

/** The parent of a process; null for one that has gone. See proc(5): the name in brackets may hold anything. */
function parentOf(pid: number): number | null {
  try {
    const stat = readFileSync(`/proc/${pid}/stat`, 'utf8');
    return Number(stat.slice(stat.lastIndexOf(')') + 2).split(' ')[1]);
  } catch {
    return null;
  }
}

/** A process and all that descend from it. */
function familyOf(root: number): number[] {
  const all = readdirSync('/proc')
    .filter((name) => /^\d+$/.test(name))
    .map(Number);
  const parents = new Map(all.map((pid) => [pid, parentOf(pid)]));
  const family = [root];
  for (const member of family) for (const [pid, parent] of parents) if (parent === member) family.push(pid);
  return family;
}

/** Megabytes (10⁶ bytes) that a process and its descendants hold; memory they share is counted once. */
function held(root: number): number {
  const kilobytes = familyOf(root).map((pid) => {
    try {
      return Number(/^Pss:\s+(\d+) kB/m.exec(readFileSync(`/proc/${pid}/smaps_rollup`, 'utf8'))?.[1] ?? 0);
    } catch {
      return 0;
    }
  });
  return (kilobytes.reduce((sum, each) => sum + each, 0) * 1024) / 1e6;
}

/** Samples are so far apart, ms: reading them holds the browser up for some of it. */
const EVERY = 40;

export interface Samples {
  /** The most that was held from now on, up to a time in ms since 1970. */
  most(until?: number): number;
  stop(): void;
}

/** Watches what a browser holds. */
export function watchMemory(root: number): Samples {
  const samples: { readonly at: number; readonly megabytes: number }[] = [];
  const take = () => samples.push({ at: Date.now(), megabytes: held(root) });
  take();
  const timer = setInterval(take, EVERY);
  return {
    most: (until = Infinity) =>
      Math.max(...samples.filter(({ at }) => at <= until).map(({ megabytes }) => megabytes)),
    stop: () => clearInterval(timer),
  };
}
