import type { Numbers, Span } from '../chart/types.ts';

/** The spans that join sections, in order, up to the whole route. */
export function joinsOf(sections: readonly Span[], joining: Numbers['joining']): Span[] {
  return joining === 'pairs' ? inPairs(sections) : oneByOne(sections);
}

/** 1–2, 1–3, …, 1–last. */
function oneByOne(sections: readonly Span[]): Span[] {
  return sections.slice(1).map((section) => ({ from: sections[0]!.from, to: section.to }));
}

/** 1–2, 3–4, then pairs of pairs, then the whole; an odd last part waits for the next round. */
function inPairs(sections: readonly Span[]): Span[] {
  const joins: Span[] = [];
  for (let parts = [...sections]; parts.length > 1;) {
    const next: Span[] = [];
    for (let i = 0; i < parts.length; i += 2) {
      const left = parts[i]!;
      const right = parts[i + 1];
      if (right === undefined) next.push(left);
      else {
        const joined = { from: left.from, to: right.to };
        joins.push(joined);
        next.push(joined);
      }
    }
    parts = next;
  }
  return joins;
}
