import type { FoundSign } from '../types.ts';

/** A sign is said when the net is at least so sure of it: a wrong route is worse than a sign to be marked by hand. */
const SURE = 0.9;
const ROUND = 0.98;
/** A jump or what belongs to one, where nothing else on the page belongs to it. */
const UNASKED = 0.99;
/** The same where another sign asks for it, or is asked for by it, and stands where it should. */
const ASKED = 0.8;
const ROUND_ASKED = 0.85;
/**
 * The only one of its kind that a sure one can mean, where it stands as such a sign does: Fine and jumps at the end of a
 * part, segno and coda at the start of one. What is less sure is never said.
 */
const ONLY = 0.5;
export const LEAST = ONLY;

type Sign = Pick<FoundSign, 'kind' | 'al' | 'text' | 'bar' | 'sure'> & {
  /** Of a section: the chance of each letter. */
  readonly letters?: Readonly<Record<string, number>>;
};

/** What a page's bars say of its parts: before which a part may begin, and at whose ends one may end. */
export interface Parts {
  readonly begins: (bar: number) => boolean;
  readonly ends: (bar: number) => boolean;
}

/** Letters that stand in a row of sections and hardly begin one. */
const BEFORE: Record<string, string> = { C: 'BC', D: 'CD' };

const isJump = ({ kind }: Sign) => kind === 'dc' || kind === 'ds';
const isRound = ({ kind }: Pick<Sign, 'kind'>) => kind === 'segno' || kind === 'coda';

/** One sign of a pair stands before the other, and neither has a meaning without it. */
function belong(first: Sign, second: Sign): boolean {
  if (first.kind === 'segno') return second.kind === 'ds' && first.bar <= second.bar;
  if (first.bar >= second.bar) return false;
  if (first.kind === 'fine') return isJump(second) && second.al === 'fine';
  if (first.kind === 'to-coda') return second.kind === 'coda' || (isJump(second) && second.al === 'coda');
  return isJump(first) && first.al === 'coda' && second.kind === 'coda';
}

/** A letter that may stand at a bar: a later one stands behind the one before it, or behind its like. */
function isInRow(text: string, bar: number, signs: readonly Sign[]): boolean {
  const before = BEFORE[text];
  return (
    before === undefined ||
    signs.some(
      (one) =>
        one.kind === 'section' && one.sure >= ASKED && one.bar < bar && before.includes(one.text ?? '?'),
    )
  );
}

/** A letter is as sure as it is among those that may stand there: the net tells B and D badly. */
function amongLetters<S extends Sign>(sign: S, signs: readonly Sign[]): S {
  if (sign.kind !== 'section' || !isInRow(sign.text ?? '', sign.bar, signs)) return sign;
  const others = Object.entries(sign.letters ?? {}).filter(([text]) => !isInRow(text, sign.bar, signs));
  const out = others.reduce((sum, [, chance]) => sum + chance, 0);
  return { ...sign, sure: Math.min(1, sign.sure / (1 - Math.min(out, 1 - sign.sure))) };
}

/** The bar of a sign is one where its kind stands, by the parts of the tune. */
function isInPlace({ kind, bar }: Sign, { begins, ends }: Parts): boolean {
  if (kind === 'fine' || kind === 'dc' || kind === 'ds') return ends(bar);
  return isRound({ kind }) && begins(bar);
}

/**
 * Signs of the form of one page that may be said: those that the net is sure of, surer where no other belongs to
 * them, and fainter ones that belong to one that it is sure of.
 */
export function agreed<S extends Sign>(seen: readonly S[], parts: Parts): S[] {
  const signs = seen.map((sign) => amongLetters(sign, seen));
  const isSure = (sign: Sign) => sign.sure >= (isRound(sign) ? ROUND : SURE);
  const belongs = (sign: Sign) => (other: Sign) => belong(sign, other) || belong(other, sign);
  const asked = signs.filter((sign) => signs.some((other) => isSure(other) && belongs(sign)(other)));
  const isAlike = (a: Sign, b: Sign) => a.kind === b.kind || (isJump(a) && isJump(b));
  const isOnly = (sign: Sign) => asked.filter((other) => isAlike(sign, other)).length === 1;
  const isSaidAsked = (sign: S) =>
    sign.sure >= (isRound(sign) ? ROUND_ASKED : ASKED) || (isOnly(sign) && isInPlace(sign, parts));
  const saidAsked = asked.filter(isSaidAsked);
  const said = signs.filter((sign) => {
    if (saidAsked.includes(sign)) return true;
    if (!isSure(sign)) return false;
    if (sign.kind === 'section') return isInRow(sign.text ?? '', sign.bar, signs);
    // What it asks for is said because of it.
    if (saidAsked.some(belongs(sign))) return true;
    // Nothing asks for a jump but the end of a part.
    return sign.sure >= UNASKED && (!isJump(sign) || parts.ends(sign.bar));
  });
  // Words of a phrase seen by themselves are no second jump.
  const isSurest = (sign: S) =>
    said.every((other) => !isJump(other) || other.bar !== sign.bar || other.sure <= sign.sure);
  return said.filter((sign) => !isJump(sign) || isSurest(sign));
}
