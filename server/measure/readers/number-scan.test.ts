import { describe, expect, it } from 'vitest';
import type { Random } from '../../../shared/geometry/random.ts';
import { seededRandom } from '../../../shared/geometry/random.ts';
import type { Cursor } from './number-scan.ts';
import { DECIMAL_COMMA, PLAIN_ROW, scanNumber } from './number-scan.ts';

const scanned = (text: string, decimal = PLAIN_ROW.decimal): number | undefined => {
  const bytes = Buffer.from(text);
  const cursor: Cursor = { at: 0, value: 0 };
  return scanNumber({ bytes, end: bytes.length }, decimal, cursor) ? cursor.value : undefined;
};

/** Digits, a point or none, an exponent or none: short and long mantissas, leading and trailing zeros. */
function written(random: Random): string {
  const digits = (most: number): string =>
    Array.from({ length: Math.floor(most * random()) }, () => Math.floor(10 * random())).join('');
  const sign = ['', '-', '+'][Math.floor(3 * random())] ?? '';
  const zeros = '0'.repeat(random() < 0.2 ? Math.floor(20 * random()) : 0);
  const exponent = random() < 0.2 ? `e${random() < 0.5 ? '-' : ''}${Math.floor(300 * random())}` : '';
  return `${sign}${zeros}${digits(random() < 0.3 ? 22 : 7)}${random() < 0.7 ? `.${digits(random() < 0.2 ? 30 : 8)}` : ''}${exponent}`;
}

describe('a number in bytes', () => {
  it.each([71, 72, 73])('is the double that the language reads, 20,000 times (seed %s)', (seed) => {
    const random = seededRandom(seed);
    for (let n = 0; n < 20_000; n++) {
      const text = written(random);
      const expected = /\d/.test(text.replace(/e.*/, '')) ? Number(text) : undefined;
      expect(scanned(text), text).toBe(expected);
      const comma = text.replace('.', ',');
      expect(scanned(comma, DECIMAL_COMMA), comma).toBe(expected);
    }
  });

  it.each(['', '-', '.', '+.', '1.2.3', '1-2', '--1', '0x10', '1e', 'e5', '1_000', 'one'])('is not "%s"', (text) => {
    expect(scanned(text)).toBeUndefined();
  });

  it.each([
    ['999999999999999', 999999999999999],
    ['9007199254740993', 9007199254740992],
    ['0.000000000000000000001', 1e-21],
    ['0.1234567890123456789', 0.12345678901234568],
    ['1d3', 1000],
    ['-inf', Number.NEGATIVE_INFINITY],
    ['NaN', Number.NaN],
  ])('%s at the edges of the quick way', (text, expected) => {
    expect(scanned(text)).toBe(expected);
  });
});
