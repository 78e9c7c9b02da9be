import type { FoundSign } from '../types.ts';

/** A sign is said when the net is at least so sure of it: a wrong route is worse than a sign to be marked by hand. */
const SURE = 0.9;
const ROUND = 0.98;
/** A jump or what belongs to one, where nothing else on the page belongs to it. */
const UNASKED = 0.99;
/** The same where another sign asks for it, or is asked for by it, and stands where it should. */
const ASKED = 0.8;
const ROUND_ASKED = 0.85;
/** What is less sure than this is never said. */
export const LEAST = Math.min(ASKED, ROUND_ASKED);

type Sign = Pick<FoundSign, 'kind' | 'al' | 'text' | 'bar' | 'sure'>;

/** Letters that stand in a row of sections and hardly begin one. */
const BEFORE: Record<string, string> = { C: 'BC', D: 'CD' };

const isJump = ({ kind }: Sign) => kind === 'dc' || kind === 'ds';
const isRound = ({ kind }: Sign) => kind === 'segno' || kind === 'coda';

/** One sign of a pair stands before the other, and neither has a meaning without it. */
function belong(first: Sign, second: Sign): boolean {
  if (first.kind === 'segno') return second.kind === 'ds' && first.bar <= second.bar;
  if (first.bar >= second.bar) return false;
  if (first.kind === 'fine') return isJump(second) && second.al === 'fine';
  if (first.kind === 'to-coda') return second.kind === 'coda' || (isJump(second) && second.al === 'coda');
  return isJump(first) && first.al === 'coda' && second.kind === 'coda';
}

/** A later letter stands behind the one before it, or behind its like. */
function isInRow({ text = '', bar }: Sign, signs: readonly Sign[]): boolean {
  const before = BEFORE[text];
  return (
    before === undefined ||
    signs.some((one) => one.kind === 'section' && one.bar < bar && before.includes(one.text ?? '?'))
  );
}

/**
 * Signs of the form of one page that may be said: those that the net is sure of, surer where no other belongs to
 * them, and fainter ones that belong to one that it is sure of.
 */
export function agreed<S extends Sign>(signs: readonly S[]): S[] {
  const sure = signs.filter((sign) => sign.sure >= (isRound(sign) ? ROUND : SURE));
  return signs.filter((sign) => {
    const isAsked = sure.some((other) => belong(sign, other) || belong(other, sign));
    if (isAsked) return sign.sure >= (isRound(sign) ? ROUND_ASKED : ASKED);
    if (!sure.includes(sign)) return false;
    return sign.kind === 'section' ? isInRow(sign, signs) : sign.sure >= UNASKED;
  });
}
