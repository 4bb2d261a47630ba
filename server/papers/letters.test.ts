import { describe, expect, it } from 'vitest';
import { linesOf, printable } from './letters.ts';

/** A font with what is on an English keyboard, and ø. */
const has = (codePoint: number): boolean => (codePoint >= 32 && codePoint < 127) || codePoint === 0xf8;
const set = (text: string): string => printable(text, has);

describe('text as the fonts can print it', () => {
  it.each([
    ['as it is', 'Runner 3 ø', 'Runner 3 ø'],
    ['without accents it lacks', 'Őry, naïve', 'Ory, naive'],
    ['a minus as a dash', '−5', '-5'],
    ['what it lacks by number', 'שלום', '{05E9 05DC 05D5 05DD}'],
    ['a picture by number', 'go 🏁!', 'go {1F3C1}!'],
    ['nothing that turns or hides text', 'a\u202eb\u200fc\u0000d', 'abcd'],
    ['several lines as one', 'one\r\ntwo\tthree', 'one two three'],
    ['nothing', '', ''],
  ])('%s', (_, text, shown) => expect(set(text)).toBe(shown));

  it('keeps two names apart that have no letter it has', () => {
    expect(set('שלום')).not.toBe(set('עולם'));
  });
});

describe('lines', () => {
  const lines = (text: string, width: number): readonly string[] => linesOf(text, width, (one) => one.length);

  it.each([
    ['between words', 'one two three', 7, ['one two', 'three']],
    ['within a word that is longer than a line', 'abcdefgh ij', 3, ['abc', 'def', 'gh', 'ij']],
    ['not at all where all fits', 'one', 3, ['one']],
    ['of nothing are one empty line', '', 3, ['']],
    ['one sign each where nothing fits', 'ab', 0, ['a', 'b']],
  ] as const)('break %s', (_, text, width, expected) => expect(lines(text, width)).toEqual(expected));

  it('lose nothing', () => {
    const text = 'x'.repeat(400);
    expect(lines(text, 7).join('')).toBe(text);
  });
});
