import { fileNameOf } from '../core/chart/naming.ts';

/** Why a chart did not open. Each code has one line on the tunes page that says what to do next. */
export const problemCodes = [
  'not-pdf',
  'empty',
  'http',
  'unreachable',
  'redirected',
  'broken-off',
  'too-slow',
  'stopped',
  'too-large',
  'no-grant',
  'no-address',
  'page-blob',
  'file-tab',
  'file-tab-off',
  'file-taken-back',
  'no-room',
  'no-database',
  'not-a-save',
  'no-sample',
  'failed',
] as const;
export type ProblemCode = (typeof problemCodes)[number];

/** An expected failure on the way from a file, a tab or an address to the stand. */
export class ChartProblem extends Error {
  override readonly name = 'ChartProblem';
  constructor(
    readonly code: ProblemCode,
    /** The file or address it is about. */
    readonly about: string,
    /** What a code has to add: an HTTP status, a host. */
    readonly detail = '',
  ) {
    super(`${code}: ${about} ${detail}`.trim());
  }
}

/** The player did not allow the site of this http(s) address. */
export const notGranted = (address: string): ChartProblem =>
  new ChartProblem('no-grant', fileNameOf(address, null), new URL(address).host);

/** A page has made this address for itself, and no other can read it; null: it is another one. */
export const pageBlob = (address: string): ChartProblem | null =>
  /^(blob|data):/.test(address) ? new ChartProblem('page-blob', address.slice(0, 60)) : null;

/** As fragment parameters, to hand a problem to the tunes page. */
export function problemParams({ code, about, detail }: ChartProblem): Record<string, string> {
  return { problem: code, about, ...(detail && { detail }) };
}

/** Back from fragment parameters; null when there is none or it is not one of ours. */
export function problemFrom(params: URLSearchParams): ChartProblem | null {
  const code = problemCodes.find((each) => each === params.get('problem'));
  return code ? new ChartProblem(code, params.get('about') ?? '', params.get('detail') ?? '') : null;
}

/** The store's errors by name: this door may not know the store. */
const byErrorName: Readonly<Record<string, ProblemCode>> = {
  NotKept: 'no-room',
  QuotaExceededError: 'no-room',
  NoStore: 'no-database',
  BadSave: 'not-a-save',
};

/** Any error as a problem about that file. */
export function asProblem(error: unknown, about: string): ChartProblem {
  if (error instanceof ChartProblem) return error;
  const name = error instanceof Error ? error.name : '';
  // A write can fail for another reason than a full disk; the store says which.
  const roomLeft = error instanceof Error && 'full' in error && error.full === false;
  const code = roomLeft ? 'failed' : (byErrorName[name] ?? 'failed');
  return new ChartProblem(code, about, error instanceof Error ? error.message : '');
}
