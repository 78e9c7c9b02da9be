import { describe, expect, it } from 'vitest';
import { pageAsked } from '../../../src/core/chart/naming.ts';

describe('the page that an address asks for', () => {
  it.each([
    ['https://a.example/book.pdf#page=12', 12],
    ['https://a.example/book.pdf#zoom=50&page=3', 3],
    ['file:///home/book.pdf#page=1', 1],
    ['https://a.example/book.pdf', null],
    ['https://a.example/book.pdf?page=4', null],
    ['https://a.example/book.pdf#page=0', null],
    ['https://a.example/book.pdf#page=-2', null],
    ['https://a.example/book.pdf#page=two', null],
    ['https://a.example/book.pdf#chapter.3', null],
    ['no address', null],
  ])('%s', (address, page) => {
    expect(pageAsked(address)).toBe(page);
  });
});
