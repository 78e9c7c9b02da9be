/**
 * How sure a bar is, from what the net says: `npx tsx tests/corpus/scans/calibrate.ts ROWS` with the rows of
 * `measure.ts --half tuning --rows ROWS`, measured with SLOPE 1 and SHIFT 0 in src/core/find/pixels/sure.ts.
 * Prints the slope and the shift of the log-odds that make what was seen likeliest (Platt 1999).
 */
import { readFileSync } from 'node:fs';
import { logOdds } from '../../../src/core/find/pixels/sure.ts';

const rows = process.argv
  .slice(2)
  .flatMap((file) => JSON.parse(readFileSync(file, 'utf8')) as [number, boolean][]);
let [slope, shift] = [1, 0];
for (let round = 0; round < 20000; round++) {
  let [a, b] = [0, 0];
  for (const [sure, isRight] of rows) {
    const x = logOdds(sure);
    const off = Number(isRight) - 1 / (1 + Math.exp(-slope * x - shift));
    a += (off * x) / rows.length;
    b += off / rows.length;
  }
  slope += 0.05 * a;
  shift += 0.05 * b;
}
console.log(`${rows.length} bars: slope ${slope.toFixed(3)}, shift ${shift.toFixed(3)}`);
for (const least of [0.999, 0.995, 0.99, 0.98, 0.95, 0.9]) {
  const said = rows.filter(([sure]) => 1 / (1 + Math.exp(-slope * logOdds(sure) - shift)) >= least);
  console.log(`≥ ${least}: ${said.length}, right ${said.filter(([, isRight]) => isRight).length}`);
}
