import { expect, it } from 'vitest';
import { revisionLetter } from './revisionLetter.ts';

it('counts as drawings do', () => {
  const first = Array.from({ length: 22 }, (_, i) => revisionLetter(i + 1)).join(' ');
  expect(first).toBe('A B C D E F G H J K L M N P R T U V W Y AA AB');
  expect([revisionLetter(40), revisionLetter(41), revisionLetter(420), revisionLetter(421)]).toEqual([
    'AY',
    'BA',
    'YY',
    'AAA',
  ]);
});

it('never gives a letter that could be misread, and none twice', () => {
  const all = Array.from({ length: 9000 }, (_, i) => revisionLetter(i + 1));
  expect(new Set(all).size).toBe(9000);
  expect(all.join('')).not.toMatch(/[IOQSXZ?]/);
});

it.each([0, -1, 1.5, Number.NaN, Number.POSITIVE_INFINITY])('has none for %s', (n) => {
  expect(revisionLetter(n)).toBe('?');
});
