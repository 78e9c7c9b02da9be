/** What every figure of the bench looks like, and how the table and bench.json show them. */
import { writeFileSync } from 'node:fs';

export interface Figure {
  readonly value: number;
  readonly unit: string;
}

export interface Spread {
  readonly n: number;
  readonly p50: number;
  readonly p95: number;
  readonly p99: number;
  readonly least: number;
  readonly most: number;
}

export interface Row {
  readonly name: string;
  readonly figure: Figure | null;
  /** What it is held against, measured in the same run. */
  readonly baseline: (Figure & { readonly name: string }) | null;
  /** Figure over baseline, in the baseline's unit. */
  readonly ratio: number | null;
  /** The promise: on the figure itself or on its ratio. */
  readonly bound: { readonly of: 'figure' | 'ratio'; readonly most: number };
  readonly holds: boolean | null;
  /** Spread of the figure, and of its baseline where that was measured as often. */
  readonly spread: readonly Spread[];
  readonly note: string;
}

export interface Measured {
  readonly name: string;
  readonly figure: Figure;
  readonly baseline: Figure & { readonly name: string };
  readonly bound: Row['bound'];
  readonly spread?: readonly Spread[];
  readonly note?: string;
}

/** A row from what was measured. Throws RangeError for what is no number: it has not been measured. */
export function measured({ name, figure, baseline, bound, spread = [], note = '' }: Measured): Row {
  const ratio = figure.value / baseline.value;
  const held = bound.of === 'ratio' ? ratio : figure.value;
  if (!Number.isFinite(held)) throw new RangeError(`${name}: no figure came out`);
  return { name, figure, baseline, ratio, bound, holds: held <= bound.most, spread, note };
}

export function notMeasured(name: string, bound: Row['bound'], why: string): Row {
  return { name, figure: null, baseline: null, ratio: null, bound, holds: null, spread: [], note: why };
}

/** Nearest-rank quantile. NaN of nothing. */
export function quantile(values: readonly number[], q: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.max(0, Math.ceil(q * sorted.length) - 1)] ?? NaN;
}

export function spreadOf(values: readonly number[]): Spread {
  const at = (q: number) => quantile(values, q);
  return { n: values.length, p50: at(0.5), p95: at(0.95), p99: at(0.99), least: at(0), most: at(1) };
}

const digits = (value: number) =>
  value === 0 || Math.abs(value) >= 1000 ? String(Math.round(value)) : String(Number(value.toPrecision(3)));
const shown = ({ value, unit }: Figure) => `${digits(value)} ${unit}`;

/** The rows as aligned text, one line each. */
export function tableOf(rows: readonly Row[]): string {
  const lines = [
    ['what', 'figure', 'baseline', 'ratio', 'bound', 'holds'],
    ...rows.map(({ name, figure, baseline, ratio, bound, holds, note }) => [
      name,
      figure ? shown(figure) : 'not measured',
      baseline ? `${shown(baseline)} ${baseline.name}` : note,
      ratio === null || !Number.isFinite(ratio) ? '-' : digits(ratio),
      bound.of === 'ratio' ? `ratio ≤ ${bound.most}` : `≤ ${bound.most} ${figure?.unit ?? ''}`.trim(),
      holds === null ? '?' : holds ? 'yes' : 'NO',
    ]),
  ];
  const widths = lines[0]!.map((_, column) => Math.max(...lines.map((line) => line[column]!.length)));
  return lines
    .map((line) =>
      line
        .map((cell, i) => cell.padEnd(widths[i]!))
        .join('  ')
        .trimEnd(),
    )
    .join('\n');
}

export function writeRows(file: string, rows: readonly Row[]): void {
  writeFileSync(file, `${JSON.stringify({ rows }, null, 2)}\n`);
}
