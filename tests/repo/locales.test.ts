import { readdirSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';

const src = resolve(import.meta.dirname, '../../src');
const locales = resolve(src, '_locales');

interface Message {
  message?: string;
  description?: string;
}
const messages = new Map<string, Message & { file: string }>();
const twice: string[] = [];
for (const file of readdirSync(resolve(locales, 'en')))
  for (const [key, value] of Object.entries(
    JSON.parse(readFileSync(resolve(locales, 'en', file), 'utf8')) as Record<string, Message>,
  )) {
    if (messages.has(key)) twice.push(key);
    messages.set(key, { ...value, file });
  }

const sources = (readdirSync(src, { recursive: true }) as string[])
  .filter((file) => /\.(tsx?|html)$/.test(file))
  .map((file) => readFileSync(resolve(src, file), 'utf8'));
const code = sources.join('\n');
const manifest = readFileSync(resolve(src, '../manifest.json'), 'utf8');

const stem = (key: string) => key.replace(/_(zero|one|two|few|many|other)$/, '');
/** Keys named in code: any literal that has the form of one; names put together by a template count by their stem. */
const literals = new Set([...code.matchAll(/['"`]([a-z]+(?:_[a-z0-9]+)+)['"`]/g)].map(([, key]) => key!));
const templates = [...code.matchAll(/`([a-z]+_[a-z0-9_]*)\$\{/g)].map(([, start]) => start!);
const inManifest = new Set([...manifest.matchAll(/__MSG_(\w+)__/g)].map(([, key]) => key!));

const isUsed = (key: string) =>
  literals.has(key) ||
  literals.has(stem(key)) ||
  inManifest.has(key) ||
  templates.some((start) => key.startsWith(start));

describe('strings on the screen', () => {
  it('are found at all', () => {
    expect(messages.size).toBeGreaterThan(50);
    expect(literals.size).toBeGreaterThan(50);
  });

  it('have keys that browsers take, each in one file only', () => {
    expect(twice).toEqual([]);
    expect([...messages.keys()].filter((key) => !/^[a-z][a-z0-9_]*$/.test(key))).toEqual([]);
  });

  it('say to the translator what they are', () => {
    const silent = [...messages].filter(
      ([, { message, description }]) => !message?.trim() || (description ?? '').trim().length < 8,
    );
    expect(silent.map(([key]) => key)).toEqual([]);
  });

  it('are used', () => {
    expect([...messages.keys()].filter((key) => !isUsed(key))).toEqual([]);
  });

  it('exist: every t() and plural() names one, with both forms for English', () => {
    const singles = [...code.matchAll(/\bt\(\s*'(\w+)'/g)].map(([, key]) => key!);
    const plurals = [...code.matchAll(/\bplural\(\s*'(\w+)'/g)].map(([, key]) => key!);
    expect(singles.length).toBeGreaterThan(20);
    expect(singles.filter((key) => !messages.has(key))).toEqual([]);
    const forms = plurals.flatMap((key) => [`${key}_one`, `${key}_other`]);
    expect(forms.filter((key) => !messages.has(key))).toEqual([]);
    expect([...inManifest].filter((key) => !messages.has(key))).toEqual([]);
  });

  it('come in pairs where they count', () => {
    const lonely = [...messages.keys()].filter(
      (key) =>
        !literals.has(key) &&
        ((key.endsWith('_one') && !messages.has(`${stem(key)}_other`)) ||
          (key.endsWith('_other') && !messages.has(`${stem(key)}_one`))),
    );
    expect(lonely).toEqual([]);
  });
});
