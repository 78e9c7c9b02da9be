import browser from 'webextension-polyfill';
import type common from '../_locales/en/common.json';
import type drill from '../_locales/en/drill.json';
import type marks from '../_locales/en/marks.json';
import type plan from '../_locales/en/plan.json';
import type stand from '../_locales/en/stand.json';
import type tunes from '../_locales/en/tunes.json';

export type MessageKey =
  | keyof typeof common
  | keyof typeof drill
  | keyof typeof marks
  | keyof typeof plan
  | keyof typeof stand
  | keyof typeof tunes;

/** The stem of a pair of messages `stem_one` and `stem_other`. */
export type PluralKey = MessageKey extends infer K ? (K extends `${infer Stem}_other` ? Stem : never) : never;

const rules = new Intl.PluralRules(browser.i18n.getUILanguage());
const numbers = new Intl.NumberFormat(browser.i18n.getUILanguage());

/** The text of a message in the player's language, with $1…$9 filled in. */
export function t(key: MessageKey, ...fill: (string | number)[]): string {
  return browser.i18n.getMessage(key, fill.map(String)) || key;
}

/** As `t`, choosing the plural form that the language has for `count`, which is also $1: "2,310 clean passes". */
export function plural(stem: PluralKey, count: number, ...fill: (string | number)[]): string {
  const all = [numbers.format(count), ...fill.map(String)];
  return (
    browser.i18n.getMessage(`${stem}_${rules.select(count)}`, all) ||
    browser.i18n.getMessage(`${stem}_other`, all)
  );
}

/** The language of the browser's own screens, for dates, sorting and numbers. */
export const getLanguage = (): string => browser.i18n.getUILanguage();
