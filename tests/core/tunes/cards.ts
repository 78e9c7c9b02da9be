/** Cards for the tests of the list: only what a test names differs. */
import { cardOf, type Card } from '../../../src/core/log/card.ts';
import { emptyState } from '../../../src/core/log/fold.ts';
import type { DocumentInfo } from '../../../src/store/types.ts';

export const card = (chart: string, change: Partial<Card> = {}): Card => ({
  ...cardOf(emptyState(chart)),
  name: chart,
  ...change,
});

export const document = (hash: string, change: Partial<DocumentInfo> = {}): DocumentInfo => ({
  hash,
  bytes: 100,
  names: [],
  urls: [],
  pages: [],
  kept: true,
  ...change,
});

export const names = (cards: readonly Card[]): string[] => cards.map(({ name }) => name);
