/** Charts from sites: the permission, the fetching and its stop, and permissions that are taken back. */
import { signal, type ReadonlySignal, type Signal } from '@preact/signals';
import { fileNameOf, pageAsked } from '../core/chart/naming.ts';
import { fetchingText } from '../host/fetching.ts';
import { askToFetch } from '../host/messages.ts';
import { standParams } from '../host/pages.ts';
import { hostPattern, isTakenBack, requestHost, withdraw } from '../host/permissions.ts';
import { ChartProblem, notGranted, pageBlob, problemFrom } from '../host/problem.ts';
import type { Settings } from '../store/types.ts';

/** A PDF on its way from a site. */
export interface Fetching {
  /** How far it is. */
  readonly text: string;
  stop(): void;
}

export interface FromSites {
  /** Null: none is on its way. */
  readonly fetching: ReadonlySignal<Fetching | null>;
  /** An address whose site the player had taken back: it waits for a yes. */
  readonly again: Signal<string | null>;
  /** Called in the press itself: the browser's question about the site comes first. */
  take(address: string): Promise<void>;
  /** The same for a site that was taken back, and is allowed again with this press. */
  takeAgain(address: string): Promise<void>;
  /** Tells how far a fetch is that the background has begun. */
  follow(address: string): Promise<void>;
  /** Takes the grant of a site, or of files, back; false: the browser keeps it. */
  takeBack(pattern: string): Promise<boolean>;
  /** Holds that site for allowed again once the browser has said yes; gives its answer. */
  allow(pattern: string, asked: Promise<boolean>): Promise<boolean>;
}

/** What the page lends: its settings, and how it runs what the player asked for. */
export interface Lent {
  readonly settings: ReadonlySignal<Settings>;
  readonly change: (part: Partial<Settings>) => Promise<void>;
  readonly doing: (about: string, work: () => Promise<void>) => Promise<void>;
  readonly show: (params: Readonly<Record<string, string>>) => void;
}

export function createFromSites({ settings, change, doing, show }: Lent): FromSites {
  const fetching = signal<Fetching | null>(null);
  const again = signal<string | null>(null);
  const taken = () => settings.value.takenBack;

  const allow = async (pattern: string, asked: Promise<boolean>) => {
    const given = await asked;
    if (given && taken().includes(pattern))
      await change({ takenBack: taken().filter((each) => each !== pattern) });
    return given;
  };
  const fetchFrom = async (address: string) => {
    const stopped = new AbortController();
    const stop = () => stopped.abort();
    const called = { name: fileNameOf(address, null), host: new URL(address).host };
    fetching.value = { text: fetchingText({ ...called, loaded: 0, total: null }), stop };
    const answer = await askToFetch(address, {
      signal: stopped.signal,
      onProgress: (progress) => (fetching.value = { text: fetchingText(progress), stop }),
    }).finally(() => (fetching.value = null));
    if (answer === null) throw new ChartProblem(stopped.signal.aborted ? 'stopped' : 'failed', called.name);
    const problem = 'chart' in answer ? null : problemFrom(new URLSearchParams(answer.problem));
    if (problem) throw problem;
    if ('chart' in answer) show(standParams(answer.chart, pageAsked(address)));
  };
  const take = (address: string) => {
    const asked = requestHost(address);
    return doing(address, async () => {
      const blob = pageBlob(address);
      if (blob) throw blob;
      if (address.startsWith('file:')) throw new ChartProblem('file-tab', address);
      const pattern = hostPattern(address);
      if (pattern === null) throw new ChartProblem('no-address', address);
      if (!(await allow(pattern, asked))) throw notGranted(address);
      await fetchFrom(address);
    });
  };

  return {
    fetching,
    again,
    async take(address) {
      if (isTakenBack(taken(), hostPattern(address))) again.value = address;
      else await take(address);
    },
    takeAgain(address) {
      again.value = null;
      return take(address);
    },
    follow: (address) => doing(address, () => fetchFrom(address)),
    async takeBack(pattern) {
      const gone = await withdraw(pattern);
      if (gone && !taken().includes(pattern)) await change({ takenBack: [...taken(), pattern] });
      return gone;
    },
    allow,
  };
}
