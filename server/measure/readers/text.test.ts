import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../shared/geometry/random.ts';
import type { ReadCode } from './problem.ts';
import { inFile, POINTS, problemOf, read } from './upload.fixture.ts';

describe('text rows', () => {
  const rows = (separator: string) =>
    ['0 0 0', '100.5 0 0', '0 200.25 0', '-50 20 300'].map((r) => r.replaceAll(' ', separator)).join('\n');
  it.each([' ', '\t', ',', ';', ', ', '  \t '])('parted by %j', (separator) => {
    const scan = read(rows(separator));
    expect(scan).toMatchObject({ format: 'text', count: 4, skipped: 0 });
    expect(inFile(scan)).toEqual(POINTS);
  });

  it.each<[string, string, number]>([
    ['comments and blank lines', `# made up\n// more\n\n${rows(' ')}\n\n`, 0],
    ['a header line', `X;Y;Z;I\n${rows(';')}`, 1],
    ['named columns in another order', '"id","z","x","y"\n1,0,0,0\n2,0,100.5,0\n3,0,0,200.25\n4,300,-50,20', 1],
    ['named columns in a comment', '# i x y z\n7 0 0 0\n7 100.5 0 0\n7 0 200.25 0\n7 -50 20 300', 0],
    ['extra columns and words', rows(' ').replaceAll('\n', ' 12 255 0 0 roof\n'), 0],
    ['a PTS count line', `4\n${rows(' ')}\n`, 0],
    ['two PTS scans', `2\n0 0 0 1\n100.5 0 0 1\n2\n0 200.25 0 1\n-50 20 300 1\n`, 0],
    ['exponents', '0 0 0\n1.005E+02 0 0e0\n-0.0 2.0025d2 0\n-5e1 +20. 3e2', 0],
    ['decimal commas', '0,0;0,0;0,0\n100,5;0,0;0,0\n0,0;200,25;0,0\n-50,0;20,0;300,0', 0],
    ['CRLF', `${rows(' ').replaceAll('\n', '\r\n')}\r\n`, 0],
    ['CR alone', rows(' ').replaceAll('\n', '\r'), 0],
    ['a byte order mark', `\uFEFF${rows(' ')}`, 0],
    ['a stray line inside', rows(' ').replace('\n0 200', '\nlost signal\n0 200'), 1],
    ['an empty column', `${rows(',')}\n1,,2,3`, 1],
  ])('with %s', (_, text, skipped) => {
    const scan = read(text);
    expect(inFile(scan)).toEqual(POINTS);
    expect(scan.skipped).toBe(skipped);
  });

  it('names the first line passed over', () => {
    expect(read(`0 0 0\nlost signal\n100 0 0\n`).firstSkipped).toEqual({ line: 2, text: 'lost signal' });
  });

  it('reads rows that straddle chunks exactly as Number does (seed 82, 60,000 rows)', () => {
    const random = seededRandom(82);
    const numbers = Array.from({ length: 180_000 }, (_, i) =>
      i % 7 === 0
        ? (random() * 1000).toString()
        : i % 5 === 0
          ? (random() * 1000).toExponential(12)
          : (random() * 1000 - 500).toFixed(i % 9),
    );
    const lines = Array.from({ length: 60_000 }, (_, i) => numbers.slice(3 * i, 3 * i + 3).join(' '));
    const scan = read(`${lines.join('\n')}\n`);
    expect(scan.count).toBe(60_000);
    const zero = numbers.slice(0, 3).map(Number);
    const expected = Float32Array.from(numbers, (text, i) => (Number(text) - (zero[i % 3] ?? 0)) * 0.001);
    expect(Buffer.from(scan.points.buffer).equals(Buffer.from(expected.buffer))).toBe(true);
  });

  it('joins scans of more than one block of memory in order (300,000 rows)', () => {
    const scan = read(Array.from({ length: 300_000 }, (_, i) => `${i % 1000} ${Math.floor(i / 1000)} 7\n`).join(''));
    expect(scan.count).toBe(300_000);
    const wrong = inFile(scan).filter((x, i) => x !== [Math.floor(i / 3) % 1000, Math.floor(i / 3000), 7][i % 3]);
    expect(wrong).toEqual([]);
  });

  it('keeps a tenth of a micrometre in a scan that lies far from its zero', () => {
    const scan = read('4500000.0001 120000.5 300\n4500100.0002 120000.5 300\n');
    expect(scan.points[3]).toBeCloseTo(0.1000001, 8);
    expect(scan.origin[0]).toBeCloseTo(4500.0000001, 9);
  });

  it.each<[string, string | Buffer, ReadCode, RegExp]>([
    ['nothing but words', 'hello\nworld\n', 'no-readable-line', /found none\. Line 1 reads "hello"/],
    ['two columns', '1 2\n3 4\n', 'no-readable-line', /at least three numbers/],
    ['words without end', 'no number here\n'.repeat(5000), 'no-readable-line', /found none/],
    ['blank lines only', '\n\n  \n', 'no-readable-line', /found none/],
    [
      'mostly words',
      `1 2 3\n${'no number here\n'.repeat(101)}`,
      'no-readable-line',
      /101 lines are none and only 1 are/,
    ],
    [
      'fewer rows than the count line says',
      '9\n0 0 0 padding for length\n100 0 0 padding for length\n',
      'truncated',
      /promises 9 points, the file has 2/,
    ],
    [
      'a count line of 2 GiB',
      '357913941\n0 0 0\n',
      'truncated',
      /promises 357,913,941 points = at least 2,147,483,\d+ bytes, the file has 16/,
    ],
    ['UTF-16', Buffer.from('\uFEFF0 0 0\n1 1 1\n', 'utf16le'), 'unsupported', /UTF-16/],
    ['one endless line', `0 0 0 ${'1 '.repeat(600_000)}`, 'unknown-format', /line 1 has more than 1,048,576 bytes/],
  ])('refuses: %s', (_, content, code, words) => {
    const problem = problemOf(content);
    expect(problem.code).toBe(code);
    expect(problem.message).toMatch(words);
  });
});
