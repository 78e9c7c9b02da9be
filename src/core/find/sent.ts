/**
 * A found page on its way from the finder's thread to another. Copying hundreds of things written in bars one by one
 * takes as long as a tenth of the finding: they travel as one list of names and one of numbers.
 */
import type { BarContent, ContentItem, FoundBar, FoundPage } from './types.ts';

export interface SentPage {
  /** The page, nothing written in its bars. */
  readonly page: FoundPage;
  /** What is written in all its bars, bar by bar. */
  readonly names: readonly string[];
  /** `WIDTH` numbers for each name. */
  readonly numbers: Float64Array;
  /** Things in each bar that has content. */
  readonly counts: readonly number[];
}

/** Numbers of a thing: staff, its four sides, its slack, and 1 where it stands alone. */
const WIDTH = 7;

/** The same page, the content of each bar that has any put in its place. */
function withContents(page: FoundPage, contentOf: (content: BarContent) => BarContent): FoundPage {
  const barOf = (bar: FoundBar) => (bar.content ? { ...bar, content: contentOf(bar.content) } : bar);
  return { ...page, systems: page.systems.map((system) => ({ ...system, bars: system.bars.map(barOf) })) };
}

export function sentPage(found: FoundPage): SentPage {
  const items: ContentItem[] = [];
  const counts: number[] = [];
  const page = withContents(found, (content) => {
    for (const item of content.items) items.push(item);
    counts.push(content.items.length);
    return { ...content, items: [] };
  });
  const numbers = new Float64Array(WIDTH * items.length);
  items.forEach(({ staff, x0, x1, y0, y1, slack, anywhere }, i) => {
    const at = WIDTH * i;
    numbers[at] = staff;
    numbers[at + 1] = x0;
    numbers[at + 2] = x1;
    numbers[at + 3] = y0;
    numbers[at + 4] = y1;
    numbers[at + 5] = slack;
    numbers[at + 6] = anywhere ? 1 : 0;
  });
  return { page, names: items.map(({ name }) => name), numbers, counts };
}

/** The page that was sent. */
export function pageFrom({ page, names, numbers, counts }: SentPage): FoundPage {
  let [bar, next] = [0, 0];
  const itemAt = (i: number): ContentItem => {
    const at = WIDTH * i;
    const item = {
      name: names[i]!,
      staff: numbers[at]!,
      x0: numbers[at + 1]!,
      x1: numbers[at + 2]!,
      y0: numbers[at + 3]!,
      y1: numbers[at + 4]!,
      slack: numbers[at + 5]!,
    };
    return numbers[at + 6] === 1 ? { ...item, anywhere: true } : item;
  };
  return withContents(page, (content) => {
    const items = Array.from({ length: counts[bar++]! }, () => itemAt(next++));
    return { ...content, items };
  });
}
