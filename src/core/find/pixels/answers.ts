/** What a net that answers one question about a window says. */
import { saidAlong, type Layer, type Said, type Shape } from './net.ts';
import type { Strip } from './strip.ts';

/** The places of the last output that count, from the first to before the last. */
export type Places = readonly [from: number, to: number];

/** A question to a net: its shapes, and where the last output answers; absent: anywhere. */
export interface Question {
  readonly shapes: readonly Shape[];
  readonly places?: Places;
}

/** A first layer: edges and corners. */
export const EDGES = { high: 3, wide: 3, down: 2, across: 1, spread: 1 };
/** A layer along the columns, for which all that stands above each other is one. */
export const ALONG = { high: 1, wide: 5, down: 1, across: 1, spread: 1 };

/** The strongest place of each answer, and for the first, "none", the mean of all places: one score an answer. */
export function scoresOf(
  { data, columns, channels }: Said,
  [from, to]: Places = [0, columns],
): { readonly scores: number[]; readonly at: number[] } {
  const at: number[] = [];
  const scores: number[] = [];
  for (let c = 0; c < channels; c++) {
    let best = from;
    let sum = 0;
    for (let x = from; x < to; x++) {
      sum += data[c * columns + x]!;
      if (data[c * columns + x]! > data[c * columns + best]!) best = x;
    }
    at.push(best);
    scores.push(c === 0 ? sum / (to - from) : data[c * columns + best]!);
  }
  return { scores, at };
}

/** Chances that sum to 1, from scores. */
export function chancesFrom(scores: readonly number[]): number[] {
  const most = Math.max(...scores);
  const odds = scores.map((score) => Math.exp(score - most));
  const all = odds.reduce((sum, value) => sum + value, 0);
  return odds.map((value) => value / all);
}

/** The chance of each answer about a window, 0–1, and where in the last output it speaks loudest. */
export function answersIn(
  window: Strip,
  { places }: Question,
  net: readonly Layer[],
): { readonly chances: number[]; readonly at: number[] } {
  const { scores, at } = scoresOf(saidAlong(window, net), places);
  return { chances: chancesFrom(scores), at };
}

/** The chance of each answer about a window, 0–1. */
export const answersAbout = (window: Strip, question: Question, net: readonly Layer[]): number[] =>
  answersIn(window, question, net).chances;
